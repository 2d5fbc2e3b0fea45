import { rollup, sum } from "d3-array";
import type { Findings } from "../result/findings.js";
import { agreementDots } from "./charts/agreement-dots.js";
import { bandHistogram } from "./charts/band-histogram.js";
import { bayControl } from "./charts/bay-control.js";
import { makeChartShapes, type ChartShapes } from "./charts/chart-shapes.js";
import { claimsChart } from "./charts/claims-chart.js";
import { changeChart } from "./charts/change-chart.js";
import type { Drawing } from "./charts/drawing.js";
import { inBoth } from "./charts/in-both.js";
import { drilledPart, drillMatrix } from "./charts/drill-matrix.js";
import { lagRows, lagsBySignal } from "./charts/lag-rows.js";
import { marginStrip } from "./charts/margin-strip.js";
import { monthClockLines, monthLines, shownClocks, shownSeries } from "./charts/month-lines.js";
import { drawSheet, type Sheet } from "./charts/sheet.js";
import type { Breadth } from "./charts/theme.js";
import { timingDiagram, type TimingMarks } from "./charts/timing-diagram.js";
import { tuningFrontier } from "./charts/tuning-frontier.js";
import type { LocalClock } from "./local-time.js";
import { drawSensors, drawTypicalDay, type SensorDrawing } from "./sensor-drawings.js";
import { claimsOf, roadsAhead } from "./roads.js";
import type { Firing, Moment, NearMissFinding, RuleFinding } from "../result/rules.js";

/** A firing that was wrong or unverified, with its excerpt and diagram where there is one. */
export interface DrawnFiring {
  readonly firing: Firing;
  readonly moment: Moment | null;
  readonly drawing: Drawing | null;
}

/**
 * Diagrams that the report holds, shared out among the rules: each takes some 10 kB, and the page must still open on
 * a phone.
 */
const MOST_DIAGRAMS = 5;
/** Diagrams of near misses, shared out in the same way. */
const MOST_NEAR_DIAGRAMS = 5;
/** Rows of a chart; more cannot be taken in at a glance, and the table beside it has them all. */
export const MOST_ROWS = 40;
/** Distance histograms that the report holds, of bands that need a look. */
const MOST_BANDS = 4;
/** Charts of what changed within the period. */
const MOST_CHANGES = 3;

/** Every chart of the report. */
export interface Drawings {
  /** For each rule: what limit each road supports now and later; null where none supports any. */
  readonly claims: readonly (Drawing | null)[];
  /** For each rule: its wrong and unverified firings, in order of time. */
  readonly firings: readonly (readonly DrawnFiring[])[];
  /** Null where no signal has a value. */
  readonly agreement: Drawing | null;
  /** Null where there are no bays. */
  readonly bays: Drawing | null;
  /** How late each signal was; null where no lag was measured. */
  readonly lags: Drawing | null;
  /** For each rule: what single faults would have done; null where none was drilled. */
  readonly drills: readonly (Drawing | null)[];
  /** For each rule: other settings on the rest of the history; null where none is better than the present one. */
  readonly tuning: readonly (Drawing | null)[];
  /** For each distance signal, in the order of the findings; null where there is no histogram. */
  readonly bands: readonly (Drawing | null)[];
  /** For each rule: how close it came while firing would have been wrong; null where there was no such time. */
  readonly margins: readonly (Drawing | null)[];
  /** For each rule, in the order of its near misses; null for all except the worst few. */
  readonly nearMisses: readonly (readonly (Drawing | null)[])[];
  /** In the order of the findings; null but for the first that changed. */
  readonly changes: readonly (Drawing | null)[];
  /** Signals over earlier periods; null where there are none. */
  readonly months: Drawing | null;
  /** Clocks over earlier periods; null where there are none. */
  readonly monthClocks: Drawing | null;
  /** For each sensor of the findings, around its worst stretch; null for all except the first few that need it. */
  readonly sensors: readonly (SensorDrawing | null)[];
  /** Null where the period is too short. */
  readonly typicalDay: Drawing | null;
}

/** Draws all charts of the findings, with `shapes` compiled before. */
export async function drawAll(findings: Findings, clock: LocalClock, shapes: ChartShapes = makeChartShapes()): Promise<Drawings> {
  const { rules, signals, bays, changes, bands } = findings;
  const lags = lagsBySignal(leastAgreeing(signals).map(({ signal }) => signal), findings.episodes);
  const months = findings.months === null || findings.months.earlier.length === 0 ? null : findings.months;
  const series = months === null ? [] : shownSeries(months, MOST_ROWS);
  const clocks = months === null ? [] : shownClocks(months, MOST_ROWS);
  const drawnChanges = new Set(changes.filter(({ changed }) => changed).slice(0, MOST_CHANGES));
  const drawnBands = new Set(bands.filter(({ presentHolds, otherModes }) => presentHolds === false || otherModes.length > 0).slice(0, MOST_BANDS));
  const hasAgreement = signals.some((signal) => signal.agreement.value !== null);
  return {
    sensors: await drawSensors(findings, clock, shapes),
    typicalDay: await drawTypicalDay(findings, clock, shapes),
    claims: rules.map((rule, index) => drawClaims(rule, `claims-${index + 1}`)),
    firings: rules.map((rule, index) => drawFirings(rule, clock, Math.ceil(MOST_DIAGRAMS / rules.length), `firing-${index + 1}`)),
    agreement: hasAgreement ? await inBoth(shapes, "agreement", (breadth) => agreementDots(leastAgreeing(signals), breadth)) : null,
    bays: bays.length === 0 ? null : await inBoth(shapes, "bays", (breadth) => bayControl(mostFaulty(bays), breadth)),
    lags: lags.length === 0 ? null : await inBoth(shapes, "lags", (breadth) => lagRows(lags, breadth)),
    drills: rules.map(({ drills }, index) =>
      drills.length === 0 ? null : sheets(`drills-${index + 1}`, (breadth) => drillMatrix(mostTelling(drills), breadth)),
    ),
    tuning: await each(rules, ({ tuning, wrongPerYear, missedShare }, n) =>
      inBoth(shapes, `tuning-${n}`, (breadth) =>
        tuning === null || tuning.suggestion === null ? null : tuningFrontier(tuning, { wrong: wrongPerYear.limit, missed: missedShare.limit }, breadth),
      ),
    ),
    margins: rules.map(({ margin: { hoursAtWhileWrong: hoursAt } }, index) =>
      hoursAt.every(([, hours]) => hours === 0) ? null : sheets(`margin-${index + 1}`, (breadth) => marginStrip(hoursAt, breadth)),
    ),
    nearMisses: rules.map(({ margin }, index) =>
      drawNearMisses(margin.nearMisses, clock, Math.ceil(MOST_NEAR_DIAGRAMS / rules.length), `near-${index + 1}`),
    ),
    changes: changes.map((change, index) =>
      drawnChanges.has(change) ? sheets(`change-${index + 1}`, (breadth) => changeChart(change, clock, breadth)) : null,
    ),
    months: months === null || series.length === 0 ? null : sheets("months", (breadth) => monthLines(series, months.changes, breadth)),
    monthClocks:
      months === null || clocks.length === 0 ? null : sheets("month-clocks", (breadth) => monthClockLines(clocks, months.changes, breadth)),
    bands: await each(bands, (band, n) => inBoth(shapes, `band-${n}`, (breadth) => (drawnBands.has(band) ? bandHistogram(band, breadth) : null))),
  };
}

/** The signals a chart shows where there are too many: those that agreed least, in the order of the site. */
export function leastAgreeing(signals: Findings["signals"], most = MOST_ROWS): Findings["signals"] {
  if (signals.length <= most) return signals;
  const shown = new Set(signals.toSorted((a, b) => (a.agreement.value ?? 1) - (b.agreement.value ?? 1)).slice(0, most));
  return signals.filter((signal) => shown.has(signal));
}

/**
 * The bays a chart shows where there are too many: those that stand out and those with most faults, in the order of
 * the site.
 */
export function mostFaulty(bays: Findings["bays"]): Findings["bays"] {
  if (bays.length <= MOST_ROWS) return bays;
  const shown = new Set(
    bays.toSorted((a, b) => Number(b.faults.standsOut) - Number(a.faults.standsOut) || b.faults.count - a.faults.count).slice(0, MOST_ROWS),
  );
  return bays.filter((bay) => shown.has(bay));
}

/**
 * The drills a chart or table shows where there are too many: those of the signals and causes whose faults did most,
 * in their order.
 */
export function mostTelling(drills: RuleFinding["drills"], most = MOST_ROWS): RuleFinding["drills"] {
  const effects = rollup(
    drills,
    (part) => sum(part, ({ wrongGained, unverifiedGained, missedGained }) => wrongGained + unverifiedGained + missedGained),
    drilledPart,
  );
  if (effects.size <= most) return drills;
  const shown = new Set([...effects].sort(([, a], [, b]) => b - a).slice(0, most).map(([part]) => part));
  return drills.filter((drill) => shown.has(drilledPart(drill)));
}

function drawClaims(rule: RuleFinding, name: string): Drawing | null {
  const [claims, { limit }] = [claimsOf(rule), rule.wrongPerYear];
  const roads = roadsAhead(claims, limit);
  return roads.length === 0 ? null : sheets(name, (breadth) => claimsChart({ claims, roads, limit }, breadth));
}

/** Wrong firings come first when there are more than `most`. */
function drawFirings(rule: RuleFinding, clock: LocalClock, most: number, name: string): DrawnFiring[] {
  const moments = new Map(rule.moments.map((moment) => [moment.firing, moment]));
  const told = rule.firingList.filter(({ outcome }) => outcome !== "right");
  const first = new Set(
    [...told.filter(({ outcome }) => outcome === "wrong"), ...told.filter(({ outcome }) => outcome !== "wrong")].slice(0, most),
  );
  return told.map((firing, index) => {
    const moment = moments.get(firing.id) ?? null;
    const { at: firedAt, wantedAt } = firing;
    const marks: TimingMarks = { firedAt, act: rule.act, wantedAt, outcome: firing.outcome === "wrong" ? "wrong" : "unverified" };
    const drawing =
      moment === null || !first.has(firing)
        ? null
        : sheets(`${name}-${index + 1}`, (breadth) => timingDiagram(moment, marks, clock, breadth));
    return { firing, moment, drawing };
  });
}

/** Of those with an excerpt the worst `most`: vouched for first, then the longest, as the findings choose them too. */
function drawNearMisses(misses: readonly NearMissFinding[], clock: LocalClock, most: number, name: string): (Drawing | null)[] {
  const length = ({ from, to }: NearMissFinding): number => to - from;
  const kept = misses
    .filter(({ excerpt }) => excerpt !== null)
    .toSorted((a, b) => Number(b.verified) - Number(a.verified) || length(b) - length(a));
  const worst = new Set(kept.slice(0, most));
  return misses.map((miss, index) => {
    const { excerpt } = miss;
    if (excerpt === null || !worst.has(miss)) return null;
    const near = { from: miss.from, to: miss.to };
    return sheets(`${name}-${index + 1}`, (breadth) => timingDiagram(excerpt, near, clock, breadth));
  });
}

/** Makes one after the other, since each drawing keeps a processor busy; `n` counts from 1. */
async function each<Of, To>(list: readonly Of[], make: (one: Of, n: number) => Promise<To>): Promise<To[]> {
  const made: To[] = [];
  for (const [index, one] of list.entries()) made.push(await make(one, index + 1));
  return made;
}

/** A sheet in both breadths; `name` is its own within the page. */
function sheets(name: string, sheet: (breadth: Breadth) => Sheet): Drawing;
function sheets(name: string, sheet: (breadth: Breadth) => Sheet | null): Drawing | null;
function sheets(name: string, sheet: (breadth: Breadth) => Sheet | null): Drawing | null {
  const [wide, narrow] = [sheet("wide"), sheet("narrow")];
  return wide === null || narrow === null ? null : { wide: drawSheet(wide, `${name}-w`), narrow: drawSheet(narrow, `${name}-n`) };
}
