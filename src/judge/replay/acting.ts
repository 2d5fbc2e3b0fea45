/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of steps, firings or rises */
import { collapse } from "../../timeline/collapse.js";
import { rises } from "../../timeline/rises.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { firstAtOrAfter, firstWhere } from "../../ground/search.js";
import { holding, type Interval } from "../../ground/intervals.js";
import { letsIn, type PreparedRule, type Tolerance } from "../rule/prepare.js";
import type { Witnesses } from "../rule/facts.js";

/** An instant (epoch milliseconds) at which the condition became true. */
export interface Rise {
  readonly at: number;
  /** The firing after which the rule was still at rest; null when the rule fired here. */
  readonly restedAfter: number | null;
}

/** When a rule acted, and when only a rest kept it from acting. */
export interface Acted {
  /** Every rise of the condition in time order: the firings, and those that a rest swallowed. */
  readonly rises: readonly Rise[];
  /** Epoch milliseconds, in order. */
  readonly firings: readonly number[];
}

/**
 * When a rule acts on its condition. Unknown counts as false, so it fires whenever the condition becomes on from off
 * *or from unknown*: a rule that says "not empty" really does fire when its sensor comes back, and that must show. A
 * condition that is on when the period begins has not become true: no firing. After a firing at `t` the rule stays
 * quiet on `[t, t + restMs)`; a rise in that time is swallowed: it is no firing and begins no new rest.
 */
export function actedOn(condition: Timeline, restMs: number): Acted {
  let last = -Infinity;
  const found = Array.from(rises(collapse(condition)), (at): Rise => {
    if (at < last + restMs) return { at, restedAfter: last };
    last = at;
    return { at, restedAfter: null };
  });
  return { rises: found, firings: found.filter((rise) => rise.restedAfter === null).map((rise) => rise.at) };
}

/** A time in which acting was wanted, and whether the diary or two independent witnesses outside the rule say so. */
export interface WantedStretch extends Interval {
  readonly verified: boolean;
}

/** The wanted stretches that count, in time order, and how many do not because the history ends inside their window. */
export interface WantedStretches {
  readonly counted: readonly WantedStretch[];
  readonly cutOff: number;
  /** Those that do not count because an export hides what a signal of the rule said. */
  readonly unjudged: readonly WantedStretch[];
}

/**
 * The wanted stretches of a rule. Witnesses outside the rule decide when each begins; where they cannot tell, all
 * witnesses together do, and the stretch is not verified. Lock and arm are only wanted when the facts hold for at least
 * `withinMs`: nobody wants the door locked behind a short walk.
 */
export function countedStretches(
  rule: PreparedRule,
  { outside, full, hidden }: { readonly [Told in "outside" | "full"]: Pick<Witnesses[Told], "truth"> } & Pick<Witnesses, "hidden">,
): WantedStretches {
  const [verified, looked] = [outside.truth, full.truth].map((truth) => countable(rule, wantedStretches(truth, rule.site.bridgeMs), truth.end)) as [Countable, Countable];
  const all = markedStretches(rule, verified.counted, looked.counted, outside.truth);
  const isHidden = ({ from }: WantedStretch): boolean => holding(hidden, from) !== null;
  return { counted: all.filter((one) => !isHidden(one)), cutOff: Math.max(verified.cutOff, looked.cutOff), unjudged: all.filter(isHidden) };
}

/** Both kinds of stretches in order: those that witnesses outside the rule tell of, and those of the others of which those cannot tell. */
export function markedStretches({ tolerance, site }: PreparedRule, verified: readonly Interval[], looked: readonly Interval[], outside: Timeline): WantedStretch[] {
  const sameMs = sameWithinMs({ tolerance, site });
  const begins = verified.map(({ from }) => from);
  const isVerified = (at: number): boolean => (begins[firstAtOrAfter(begins, at - sameMs)] ?? Infinity) <= at + sameMs;
  const unverified = looked.filter(({ from }) => stateAt(outside, from) === UNKNOWN && !isVerified(from));
  const all = [...verified.map((one) => ({ ...one, verified: true })), ...unverified.map((one) => ({ ...one, verified: false }))];
  return all.sort((a, b) => a.from - b.from);
}

/** The same instant as two sets of witnesses see it lies within this: some see it earlier than others. */
export function sameWithinMs({ tolerance, site }: Pick<PreparedRule, "tolerance" | "site">): number {
  return Math.max(tolerance.withinMs, tolerance.earlyMs, site.joinMs);
}

interface Countable {
  readonly counted: readonly Interval[];
  readonly cutOff: number;
}

/** Those of some stretches that count, of a history that ends at `end`, and how many do not as it ends inside their window. */
export function countable({ spec, tolerance: { withinMs } }: PreparedRule, stretches: readonly Interval[], end: number): Countable {
  const whole = stretches.filter((one) => one.from + withinMs <= end);
  return { counted: whole.filter((one) => letsIn(spec.act) || one.to - one.from >= withinMs), cutOff: stretches.length - whole.length };
}

/**
 * The stretches that begin with a change from off to on that was seen: directly, or over a gap of at most `bridgeMs`.
 * Each lasts until it is known to be off, or until the last instant it was known to be on. An unknown stretch in
 * between neither ends it nor begins a new one. Off, then unknown for longer, then on is no beginning: nobody knows
 * when it came on.
 */
export function wantedStretches(truth: Timeline, bridgeMs: number): Interval[] {
  const found: { from: number; to: number }[] = [];
  let lastKnown: number | null = null;
  let knownUntil = -Infinity;
  let running: { from: number; to: number } | null = null;
  for (let i = 0; i < truth.times.length; i += 1) {
    const state = truth.states[i]!;
    if (state === UNKNOWN) continue;
    const from = truth.times[i]!;
    const to = truth.times[i + 1] ?? truth.end;
    if (state === OFF) {
      running = null;
    } else if (lastKnown === OFF) {
      running = from - knownUntil <= bridgeMs ? { from, to } : null;
      if (running !== null) found.push(running);
    } else if (running !== null) {
      running.to = to;
    }
    lastKnown = state;
    knownUntil = to;
  }
  return found;
}

/** What became of one wanted instant. */
export interface Serving {
  readonly outcome: "served" | "late" | "missed";
  /** The firing that serves it, in time or late; the one before a rest that swallowed its own; null when missed. */
  readonly firingAt: number | null;
  /** The firing before the rest served it: the rule had acted already. */
  readonly byRest: boolean;
  /** The firing whose rest swallowed a rise in time; null when none was swallowed. */
  readonly restedAfter: number | null;
}

/** When a wanted instant counts as served: `earlyMs` before to `withinMs` after, both included. */
export function servingWindow(wantedAt: number, tolerance: Tolerance): Interval {
  return { from: wantedAt - tolerance.earlyMs, to: wantedAt + tolerance.withinMs };
}

/**
 * The firing that serves a wanted stretch.
 * - served: a firing inside {@link servingWindow} while acting is still wanted; the nearest one counts. For acts that
 *   let someone in, a rise in that time which a rest swallowed serves too: the rule had acted already. It does not for
 *   lock and arm: what was locked before the rest may have been opened again.
 * - late: the first firing after the window while acting is still wanted.
 * - missed: none.
 * Logarithmic in the number of firings, apart from those inside the window.
 */
export function servingOf(wanted: Interval, { firings, rises: risen }: Acted, { spec, tolerance }: Pick<PreparedRule, "spec" | "tolerance">): Serving {
  const { from, to } = servingWindow(wanted.from, tolerance);
  let nearest: number | null = null;
  for (let i = firstAtOrAfter(firings, from); i < firings.length && firings[i]! <= to && firings[i]! < wanted.to; i += 1) {
    if (nearest === null || Math.abs(firings[i]! - wanted.from) < Math.abs(nearest - wanted.from)) nearest = firings[i]!;
  }
  if (nearest !== null) return { outcome: "served", firingAt: nearest, byRest: false, restedAfter: null };

  // No firing is in the window, so whatever rose there was swallowed by a rest.
  const rise = risen[firstWhere(risen.length, (i) => risen[i]!.at >= from)];
  const restedAfter = rise !== undefined && rise.at <= to && rise.at < wanted.to ? rise.restedAfter : null;
  if (restedAfter !== null && letsIn(spec.act)) return { outcome: "served", firingAt: restedAfter, byRest: true, restedAfter };

  const late = firings[firstWhere(firings.length, (i) => firings[i]! > to)];
  if (late !== undefined && late < wanted.to) return { outcome: "late", firingAt: late, byRest: false, restedAfter };
  return { outcome: "missed", firingAt: null, byRest: false, restedAfter };
}
