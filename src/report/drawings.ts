import type { TopLevelSpec } from "vega-lite";
import type { Findings, FiringFinding, Moment, RuleFinding } from "../findings/schema.js";
import { agreementDots } from "./charts/agreement-dots.js";
import { bayControl } from "./charts/bay-control.js";
import { draw } from "./charts/draw.js";
import { limitStrip } from "./charts/limit-strip.js";
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
const MOST_DIAGRAMS = 150;

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
}

/** Draws all charts of the findings. */
export async function drawAll(findings: Findings, clock: LocalClock): Promise<Drawings> {
  const { rules, signals, bays } = findings;
  const rates: Drawing[] = [];
  const firings: DrawnFiring[][] = [];
  for (const [index, rule] of rules.entries()) {
    rates.push(await drawBoth((breadth) => limitStrip(rule.wrongPerYear, breadth), `rates-${index + 1}`));
    firings.push(await drawFirings(rule, clock, `firing-${index + 1}`, Math.ceil(MOST_DIAGRAMS / rules.length)));
  }
  return {
    rates,
    firings,
    agreement: signals.some((signal) => signal.agreement.value !== null) ? await drawBoth((breadth) => agreementDots(signals, breadth), "agreement") : null,
    bays: bays.length === 0 ? null : await drawBoth((breadth) => bayControl(bays, breadth), "bays"),
  };
}

/** Wrong firings come first when there are more than `most`. */
async function drawFirings(rule: RuleFinding, clock: LocalClock, prefix: string, most: number): Promise<DrawnFiring[]> {
  const moments = new Map(rule.moments.map((moment) => [moment.firing, moment]));
  const told = rule.firingList.filter(({ outcome }) => outcome !== "right");
  const first = new Set([...told.filter(({ outcome }) => outcome === "wrong"), ...told.filter(({ outcome }) => outcome !== "wrong")].slice(0, most));
  const drawn: DrawnFiring[] = [];
  for (const firing of told) {
    const moment = moments.get(firing.id) ?? null;
    const instants = { firedAt: Date.parse(firing.at), act: rule.act, wantedAt: firing.wantedAt === null ? null : Date.parse(firing.wantedAt), outcome: firing.outcome === "wrong" ? ("wrong" as const) : ("unverified" as const) };
    const drawing = moment === null || !first.has(firing) ? null : await drawBoth((breadth) => timingDiagram(moment, instants, clock, breadth), `${prefix}-${drawn.length + 1}`);
    drawn.push({ firing, moment, drawing });
  }
  return drawn;
}

async function drawBoth(specification: (breadth: Breadth) => TopLevelSpec, prefix: string): Promise<Drawing> {
  return { wide: await draw(specification("wide"), `${prefix}-w`), narrow: await draw(specification("narrow"), `${prefix}-n`) };
}
