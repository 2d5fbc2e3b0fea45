import { durationText } from "../../site/duration.js";
import type { Act, RuleSpec, Site } from "../../site/site.js";
import { stateAt, stepAt } from "../../timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { blockingAtoms, decidingAtoms, type AtomState } from "../rule/deciding-atoms.js";
import { vouchersOf, type Facts } from "../rule/facts.js";
import { atomsText, type Witnesses } from "./outcomes.js";
import type { Replay } from "./replay.js";
import { servingOf, servingWindow } from "./acting.js";
import { letsIn, type Tolerance } from "../rule/prepare.js";
import type { Interval } from "../../ground/intervals.js";

/** One wanted instant with what became of it; `firingAt` instead of the firing's id, which is not settled yet. */
export interface WantedOutcome {
  readonly at: number;
  readonly outcome: "served" | "late" | "missed";
  readonly verified: boolean;
  readonly firingAt: number | null;
  readonly delaySeconds: number | null;
  readonly why: string;
}

/** The wanted instants in time order, and how many were left out because the history ends inside their window. */
export interface WantedOutcomes {
  readonly list: readonly WantedOutcome[];
  readonly cutOff: number;
}

/**
 * The instants at which the facts become so, and whether the rule acted. Where the diary or two independent witnesses outside
 * the rule tell the facts, they say when, and the instant is verified; where they cannot tell, all witnesses together do, and it is not.
 * - served: a firing at most `withinMs` after (or `earlyMs` before), while the facts still hold; the nearest one counts.
 *   For acts that let someone in also a rise of the condition in that time which a rest swallowed: the rule had acted already.
 *   Not so for lock and arm: what was locked before the rest may have been opened again.
 * - late: the first firing after that while the facts still hold. - missed: none.
 * Lock and arm are only wanted when the facts hold for `withinMs` at least: nobody wants the door locked behind a short walk.
 * A wanted instant whose window reaches past the end of the history is not counted, but told in `cutOff`. `readEveryMs` says how
 * coarsely a signal's turns are told, 0 where it tells them as they come.
 */
export function wantedOutcomes(
  rule: RuleSpec,
  site: Site,
  replay: Replay,
  witnesses: Witnesses,
  tolerance: Tolerance,
  readEveryMs: (signal: string) => number = () => 0,
): WantedOutcomes {
  const { counted, cutOff } = countedStretches(rule.act, witnesses.outside.truth, witnesses.full.truth, site, tolerance);
  const list = counted.map((stretch) => inTimeForCertain(outcomeOf(stretch, rule, site, replay, tolerance), witnesses.outside, tolerance, readEveryMs));
  return { list, cutOff };
}

/**
 * Whoever is read every five minutes says up to five minutes late that somebody came: a rule that acts three minutes late then seems
 * to act in time. Served only counts as verified if it was in time even if the event came that much before.
 */
function inTimeForCertain(one: WantedOutcome, outside: Facts, { withinMs }: Tolerance, readEveryMs: (signal: string) => number): WantedOutcome {
  if (!one.verified || one.outcome !== "served" || one.firingAt === null) return one;
  const atoms = decidingAtoms(outside.expression, outside.parts, one.at).map(({ atom }) => atom);
  const slowestMs = Math.max(0, ...vouchersOf(atoms, outside, one.at).map((voucher) => (voucher === "diary" ? 0 : readEveryMs(voucher))));
  if (one.firingAt - one.at + slowestMs <= withinMs || slowestMs === 0) return one;
  return { ...one, verified: false, why: `${one.why === "" ? "" : `${one.why} `}Those who confirm it are read every ${durationText(slowestMs)}: nobody can say whether it came in time.` };
}

/** A wanted stretch, and whether the diary or two independent witnesses outside the rule say so. */
export interface WantedStretch extends Interval {
  readonly verified: boolean;
}

/**
 * The wanted stretches that {@link wantedOutcomes} counts, in time order, and how many were left out because the history ends too
 * soon. `outside` and `full`: the facts as those outside the rule tell them, and as all witnesses do.
 */
export function countedStretches(
  act: Act,
  outside: Timeline,
  full: Timeline,
  site: Pick<Site, "bridgeMs" | "joinMs">,
  tolerance: Tolerance,
): { readonly counted: readonly WantedStretch[]; readonly cutOff: number } {
  const verified = longEnough(act, outside, tolerance, site.bridgeMs);
  const looked = longEnough(act, full, tolerance, site.bridgeMs);
  // The same instant as two sorts of witnesses see it: some see it earlier than others.
  const sameMs = Math.max(tolerance.withinMs, tolerance.earlyMs, site.joinMs);
  const unverified = looked.counted.filter(({ from }) => stateAt(outside, from) === UNKNOWN && !verified.counted.some((one) => Math.abs(one.from - from) <= sameMs));
  const all = [...verified.counted.map((one) => ({ ...one, verified: true })), ...unverified.map((one) => ({ ...one, verified: false }))];
  return { counted: all.sort((a, b) => a.from - b.from), cutOff: Math.max(verified.cutOff, looked.cutOff) };
}

function longEnough(act: Act, truth: Timeline, { withinMs }: Tolerance, bridgeMs: number): { readonly counted: readonly Interval[]; readonly cutOff: number } {
  const candidates = wantedStretches(truth, bridgeMs);
  const whole = candidates.filter((one) => one.from + withinMs <= truth.end);
  return { counted: whole.filter((one) => letsIn(act) || one.to - one.from >= withinMs), cutOff: candidates.length - whole.length };
}

/**
 * The stretches that begin with a change from off to on that was seen: directly, or over a gap of at most `bridgeMs`. They last until it
 * is known to be off, or until the last instant it was known to be on. An unknown stretch in between neither ends one nor begins a
 * new one. Off, then unknown for long, then on is no beginning: nobody knows when or whether something was wanted in between.
 */
export function wantedStretches(truth: Timeline, bridgeMs: number): Interval[] {
  const found: { from: number; to: number }[] = [];
  let lastKnown: number | null = null;
  let knownUntil = -Infinity;
  let running: { from: number; to: number } | null = null;
  for (let i = 0; i < truth.times.length; i += 1) {
    const state = truth.states[i];
    if (state === UNKNOWN) continue;
    const to = truth.times[i + 1] ?? truth.end;
    if (state === OFF) {
      running = null;
    } else if (lastKnown === OFF) {
      const seen = truth.times[i]! - knownUntil <= bridgeMs;
      running = seen ? { from: truth.times[i]!, to } : null;
      if (running !== null) found.push(running);
    } else if (running !== null) {
      running.to = to;
    }
    lastKnown = state ?? null;
    knownUntil = to;
  }
  return found;
}

function outcomeOf(stretch: WantedStretch, rule: RuleSpec, site: Site, replay: Replay, tolerance: Tolerance): WantedOutcome {
  const { from: at, verified } = stretch;
  const window = servingWindow(at, tolerance);
  const { outcome, firingAt, byRest, restedAfter } = servingOf(stretch, replay, rule.act, tolerance);
  const acted = { at, outcome, verified, firingAt };
  if (outcome === "served") {
    const why = byRest && firingAt !== null ? `Already acted ${durationText(at - firingAt)} before; the rule was at rest.` : "";
    return { ...acted, delaySeconds: byRest || firingAt === null ? null : (firingAt - at) / 1000, why };
  }
  const why = restedAfter === null ? obstacleText(window, rule, site, replay) : `The rule was at rest after its firing ${durationText(at - restedAfter)} before.`;
  return { ...acted, delaySeconds: firingAt === null ? null : (firingAt - at) / 1000, why };
}

/** What stood in the way: looked at where, inside the window, the fewest parts of the condition did. */
function obstacleText(window: Interval, rule: RuleSpec, site: Site, replay: Replay): string {
  const instants = instantsOfChange(window, replay);
  if (instants.some((instant) => stateAt(replay.condition, instant) === ON)) {
    return "The condition had been true before and did not become true anew.";
  }
  let fewest: AtomState[] | null = null;
  for (const instant of instants) {
    const blocking = blockingAtoms(rule.when, replay.parts, instant);
    if (fewest === null || blocking.length < fewest.length) fewest = blocking;
  }
  return `Stood in the way: ${atomsText(fewest ?? [], site)}.`;
}

/** The window's beginning and every instant in it at which an atom of the condition changes, in order. */
function instantsOfChange(window: Interval, replay: Replay): number[] {
  const from = Math.max(window.from, replay.condition.start);
  const instants = new Set([from]);
  for (const [part, timeline] of replay.parts) {
    if (part.op !== "is" && part.op !== "turned") continue;
    for (let i = stepAt(timeline, from) + 1; i < timeline.times.length && timeline.times[i]! <= window.to; i += 1) instants.add(timeline.times[i]!);
  }
  return [...instants].sort((a, b) => a - b);
}
