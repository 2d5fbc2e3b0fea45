import type { TopLevelSpec } from "vega-lite";
import type { Findings, FiringFinding, Moment, NearMissFinding, RuleFinding } from "../result/schema.js";
import { bandHistogram } from "./charts/band-histogram.js";
import { drillMatrix } from "./charts/drill-matrix.js";
import { lagRows, lagsBySignal } from "./charts/lag-rows.js";
import { tuningFrontier } from "./charts/tuning-frontier.js";
import { weekCells, weekGrid } from "./charts/week-grid.js";
import { agreementDots } from "./charts/agreement-dots.js";
import { bayControl } from "./charts/bay-control.js";
import { changeChart } from "./charts/change-chart.js";
import { draw } from "./charts/draw.js";
import { limitStrip } from "./charts/limit-strip.js";
import { marginStrip } from "./charts/margin-strip.js";
import { monthClockLines, monthLines, shownClocks, shownSeries } from "./charts/month-lines.js";
import type { Breadth } from "./charts/theme.js";
import { timingDiagram } from "./charts/timing-diagram.js";
import type { LocalClock } from "./local-time.js";

/** One chart as SVG markup, for a wide page and for a phone. */
export interface Drawing {
  readonly wide: string;
  readonly narrow: string;
}

/** A firing that was wrong or unverified, with its excerpt and diagram where there is one. */
export interface DrawnFiring {
  readonly firing: FiringFinding;
  readonly moment: Moment | null;
  readonly drawing: Drawing | null;
}

/** So many diagrams the report holds, shared out among the rules: each takes some 12 kB, and the page must still open on a phone. */
const MOST_DIAGRAMS = 90;
/** So many diagrams of near misses, shared out likewise. */
const MOST_NEAR_DIAGRAMS = 18;
/** So many rows a chart holds; more cannot be taken in at a glance, and the table beside it has them all. */
export const MOST_ROWS = 40;
/** So many distance histograms the report holds. */
const MOST_BANDS = 24;
/** So many charts of what changed within the period. */
const MOST_CHANGES = 12;

/** Every chart of the report. */
export interface Drawings {
  /** A rule each: wrong firings a year against the limit. */
  readonly rates: readonly Drawing[];
  /** A rule each: its wrong and unverified firings, in order of time. */
  readonly firings: readonly (readonly DrawnFiring[])[];
  /** Null where no signal has a value. */
  readonly agreement: Drawing | null;
  /** Null where there are no bays. */
  readonly bays: Drawing | null;
  /** How late each signal was; null where no lag was measured. */
  readonly lags: Drawing | null;
  /** Phantoms and missed turns by hour and day of the week; null where there were none. */
  readonly week: Drawing | null;
  /** A rule each: what single faults would have done; null where none was drilled. */
  readonly drills: readonly (Drawing | null)[];
  /** A rule each: other settings on the rest of the history; null where there is nothing to compare. */
  readonly tuning: readonly (Drawing | null)[];
  /** A distance signal each, in the order of the findings; null where there is no histogram. */
  readonly bands: readonly (Drawing | null)[];
  /** A rule each: how close it came while firing would have been wrong; null where there was no such time. */
  readonly margins: readonly (Drawing | null)[];
  /** A rule each, in the order of its near misses; null but for the worst few. */
  readonly nearMisses: readonly (readonly (Drawing | null)[])[];
  /** In the order of the findings; null but for the first that changed. */
  readonly changes: readonly (Drawing | null)[];
  /** Signals over earlier periods; null where there are none. */
  readonly months: Drawing | null;
  /** Clocks over earlier periods; null where there are none. */
  readonly monthClocks: Drawing | null;
}

/** Draws all charts of the findings. */
export async function drawAll(findings: Findings, clock: LocalClock): Promise<Drawings> {
  const { rules, signals, bays } = findings;
  const lags = lagsBySignal(leastAgreeing(signals).map(({ signal }) => signal), findings.episodes);
  const cells = weekCells(findings, clock);
  const { months } = findings;
  const series = months === null || months.earlier.length === 0 ? [] : shownSeries(months, MOST_ROWS);
  const clockSeries = months === null || months.earlier.length === 0 ? [] : shownClocks(months, MOST_ROWS);
  const drawnChanges = new Set(findings.changes.filter(({ changed }) => changed).slice(0, MOST_CHANGES));
  const rates: Drawing[] = [];
  const firings: DrawnFiring[][] = [];
  for (const [index, rule] of rules.entries()) {
    rates.push(await drawBoth((breadth) => limitStrip(rule.wrongPerYear, breadth), `rates-${index + 1}`));
    firings.push(await drawFirings(rule, clock, `firing-${index + 1}`, Math.ceil(MOST_DIAGRAMS / rules.length)));
  }
  return {
    rates,
    firings,
    agreement: signals.some((signal) => signal.agreement.value !== null) ? await drawBoth((breadth) => agreementDots(leastAgreeing(signals), breadth), "agreement") : null,
    bays: bays.length === 0 ? null : await drawBoth((breadth) => bayControl(mostFaulty(bays), breadth), "bays"),
    lags: lags.length === 0 ? null : await drawBoth((breadth) => lagRows(lags, breadth), "lags"),
    week: cells.length === 0 ? null : await drawBoth((breadth) => weekGrid(cells, clock, breadth), "week"),
    drills: await each(rules, (rule, index) => (rule.drills.length === 0 ? null : drawBoth((breadth) => drillMatrix(mostTelling(rule.drills), breadth), `drills-${index + 1}`))),
    tuning: await each(rules, ({ tuning, wrongPerYear, missedShare }, index) =>
      tuning === null ? null : drawBoth((breadth) => tuningFrontier(tuning, { wrong: wrongPerYear.limit, missed: missedShare.limit }, breadth), `tuning-${index + 1}`),
    ),
    margins: await each(rules, ({ margin }, index) =>
      margin.hoursAtWhileWrong.every(([, hours]) => hours === 0) ? null : drawBoth((breadth) => marginStrip(margin.hoursAtWhileWrong, breadth), `margin-${index + 1}`),
    ),
    nearMisses: await each(rules, async ({ margin }, index) => drawNearMisses(margin.nearMisses, clock, `near-${index + 1}`, Math.ceil(MOST_NEAR_DIAGRAMS / rules.length))),
    changes: await each(findings.changes, (change, index) => (drawnChanges.has(change) ? drawBoth((breadth) => changeChart(change, clock, breadth), `change-${index + 1}`) : null)),
    months: months === null || series.length === 0 ? null : await drawBoth((breadth) => monthLines(series, months.changes, breadth), "months"),
    monthClocks: months === null || clockSeries.length === 0 ? null : await drawBoth((breadth) => monthClockLines(clockSeries, months.changes, breadth), "month-clocks"),
    bands: await each(findings.bands, (band, index) => (index < MOST_BANDS ? drawBoth((breadth) => bandHistogram(band, breadth), `band-${index + 1}`) : null)),
  };
}

/** The signals a chart shows where there are too many: those that agreed least, in the order of the site. */
export function leastAgreeing(signals: Findings["signals"], most = MOST_ROWS): Findings["signals"] {
  if (signals.length <= most) return signals;
  const shown = new Set(signals.toSorted((a, b) => (a.agreement.value ?? 1) - (b.agreement.value ?? 1)).slice(0, most));
  return signals.filter((signal) => shown.has(signal));
}

/** The bays a chart shows where there are too many: those that stand out and those with most faults, in the order of the site. */
export function mostFaulty(bays: Findings["bays"]): Findings["bays"] {
  if (bays.length <= MOST_ROWS) return bays;
  const shown = new Set(bays.toSorted((a, b) => Number(b.faults.standsOut) - Number(a.faults.standsOut) || b.faults.count - a.faults.count).slice(0, MOST_ROWS));
  return bays.filter((bay) => shown.has(bay));
}

/** The drills a chart or table shows where there are too many: those of the signals and causes whose faults did most, in their order. */
export function mostTelling(drills: RuleFinding["drills"], most = MOST_ROWS): RuleFinding["drills"] {
  const effect = new Map<string, number>();
  for (const drill of drills) effect.set(`${drill.on} ${drill.name}`, (effect.get(`${drill.on} ${drill.name}`) ?? 0) + drill.wrongGained + drill.unverifiedGained + drill.missedGained);
  if (effect.size <= most) return drills;
  const shown = new Set([...effect].sort(([, a], [, b]) => b - a).slice(0, most).map(([target]) => target));
  return drills.filter(({ on, name }) => shown.has(`${on} ${name}`));
}

/** One after the other: each drawing keeps a processor busy. */
async function each<Of, To>(list: readonly Of[], make: (one: Of, index: number) => Promise<To>): Promise<To[]>;
async function each<Of, To>(list: readonly Of[], make: (one: Of, index: number) => Promise<To> | null): Promise<(To | null)[]>;
async function each<Of, To>(list: readonly Of[], make: (one: Of, index: number) => Promise<To> | null): Promise<(To | null)[]> {
  const made: (To | null)[] = [];
  for (const [index, one] of list.entries()) made.push(await make(one, index));
  return made;
}

/** Wrong firings come first when there are more than `most`. */
async function drawFirings(rule: RuleFinding, clock: LocalClock, prefix: string, most: number): Promise<DrawnFiring[]> {
  const moments = new Map(rule.moments.map((moment) => [moment.firing, moment]));
  const told = rule.firingList.filter(({ outcome }) => outcome !== "right");
  const first = new Set([...told.filter(({ outcome }) => outcome === "wrong"), ...told.filter(({ outcome }) => outcome !== "wrong")].slice(0, most));
  const drawn: DrawnFiring[] = [];
  for (const firing of told) {
    const moment = moments.get(firing.id) ?? null;
    const instants = { firedAt: firing.at, act: rule.act, wantedAt: firing.wantedAt === null ? null : firing.wantedAt, outcome: firing.outcome === "wrong" ? ("wrong" as const) : ("unverified" as const) };
    const drawing = moment === null || !first.has(firing) ? null : await drawBoth((breadth) => timingDiagram(moment, instants, clock, breadth), `${prefix}-${drawn.length + 1}`);
    drawn.push({ firing, moment, drawing });
  }
  return drawn;
}

/** Of those with an excerpt the worst `most`: vouched for first, then the longest, as the findings choose them too. */
async function drawNearMisses(misses: readonly NearMissFinding[], clock: LocalClock, prefix: string, most: number): Promise<(Drawing | null)[]> {
  const length = ({ from, to }: NearMissFinding): number => to - from;
  const kept = misses.filter(({ excerpt }) => excerpt !== null).toSorted((a, b) => Number(b.verified) - Number(a.verified) || length(b) - length(a));
  const worst = new Set(kept.slice(0, most));
  return each(misses, ({ from, to, excerpt }, index) =>
    excerpt === null || !worst.has(misses[index]!) ? null : drawBoth((breadth) => timingDiagram(excerpt, { from: from, to: to }, clock, breadth), `${prefix}-${index + 1}`),
  );
}

async function drawBoth(specification: (breadth: Breadth) => TopLevelSpec, prefix: string): Promise<Drawing>;
async function drawBoth(specification: (breadth: Breadth) => TopLevelSpec | null, prefix: string): Promise<Drawing | null>;
async function drawBoth(specification: (breadth: Breadth) => TopLevelSpec | null, prefix: string): Promise<Drawing | null> {
  const [wide, narrow] = [specification("wide"), specification("narrow")];
  return wide === null || narrow === null ? null : { wide: await draw(wide, `${prefix}-w`), narrow: await draw(narrow, `${prefix}-n`) };
}
