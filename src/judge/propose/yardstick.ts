import { SECOND_MS, YEAR_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";
import { durations } from "../../timeline/durations.js";
import { restrict } from "../../timeline/restrict.js";
import type { Timeline } from "../../timeline/timeline.js";
import type { ProposalFigures } from "../../result/proposals.js";
import { actedOn, countedStretches, servingOf } from "../replay/acting.js";
import { firingOutcome } from "../replay/firing-outcomes.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { witnessesOf } from "../rule/facts.js";

/** One firing of a rule, and what is known of it. */
export interface JudgedFiring {
  readonly at: number;
  readonly outcome: "right" | "wrong" | "looks right" | "looks wrong" | "unclear";
}

/** One wanted instant, and what a rule made of it. */
export interface JudgedWanted {
  readonly at: number;
  readonly outcome: "served" | "late" | "missed";
  readonly firingAt: number | null;
  /** Seconds; null when missed, or served by a rest. */
  readonly delaySeconds: number | null;
}

/** What some condition in place of the rule's own would have done over the whole history. */
export interface Judged {
  readonly condition: Timeline;
  readonly firings: readonly JudgedFiring[];
  readonly wanted: readonly JudgedWanted[];
}

/**
 * One measure for the present rule and all others: its own `right_when`, rest and limit of time. Together they may listen
 * to every signal of the site, so only the diary is a witness outside all of them; where it is silent, all signals together
 * say how it looks, of every rule alike.
 */
export function makeYardstick({ spec, site, standard, tolerance, history, ...prepared }: RuleOverHistory): (condition: Timeline) => Judged {
  const rule = { ...prepared, spec, site, standard, tolerance, signals: site.signals.map(({ id }) => id) };
  const witnesses = witnessesOf(rule, history);
  const { counted } = countedStretches(rule, witnesses);
  return (condition) => {
    const acted = actedOn(condition, spec.restMs);
    const firings = acted.firings.map((at): JudgedFiring => {
      const outcome = firingOutcome(at, rule, witnesses.outside);
      if (outcome !== "unverified") return { at, outcome };
      const looks = firingOutcome(at, rule, witnesses.full);
      return { at, outcome: looks === "unverified" ? "unclear" : `looks ${looks}` };
    });
    const wanted = counted.map((stretch): JudgedWanted => {
      const { outcome, firingAt, byRest } = servingOf(stretch, acted, rule);
      return { at: stretch.from, outcome, firingAt, delaySeconds: firingAt === null || byRest ? null : (firingAt - stretch.from) / SECOND_MS };
    });
    return { condition, firings, wanted };
  };
}

/** What is compared, less being better: wrong; wrong or looking so; missed or late; and firings of which nobody can tell. */
export type Aims = readonly [wrong: number, looksWrong: number, missed: number, unclear: number];

/** The aims on one part of the history. */
export function aimsOf({ firings, wanted }: Judged, { from, to }: Interval): Aims {
  const fired = (...outcomes: JudgedFiring["outcome"][]): number => firings.filter(({ at, outcome }) => at >= from && at < to && outcomes.includes(outcome)).length;
  return [fired("wrong"), fired("wrong", "looks wrong"), wanted.filter(({ at, outcome }) => at >= from && at < to && outcome !== "served").length, fired("unclear")];
}

/** Whether the first is no worse in any aim, and better in one that is not "nobody can tell". */
export function betters(one: Aims, other: Aims): boolean {
  return one.every((value, i) => value <= (other[i] ?? 0)) && one.slice(0, 3).some((value, i) => value < (other[i] ?? 0));
}

/** The median delay on one part in whole seconds; Infinity where nothing was served. */
export function delayOf({ wanted }: Judged, { from, to }: Interval): number {
  const delays = wanted.flatMap(({ at, delaySeconds }) => (at >= from && at < to && delaySeconds !== null ? [delaySeconds] : []));
  const { value } = quantileEstimate(delays, 0.5, 0.5, "seconds");
  return value === null ? Infinity : Math.round(value);
}

/** With intervals; of `lookedAt` rules each gets its share of the permitted error. */
export function figuresOf(judged: Judged, part: Interval, confidence: number, lookedAt: number): ProposalFigures {
  const inside = ({ at }: { readonly at: number }): boolean => at >= part.from && at < part.to;
  const [firings, wanted] = [judged.firings.filter(inside), judged.wanted.filter(inside)];
  const fired = (outcome: JudgedFiring["outcome"]): number => firings.filter((one) => one.outcome === outcome).length;
  const became = (outcome: JudgedWanted["outcome"]): number => wanted.filter((one) => one.outcome === outcome).length;
  const { onMs, offMs } = durations(restrict(judged.condition, part.from, part.to));
  const own = 1 - (1 - confidence) / Math.max(1, lookedAt);
  const [wrong, looksWrong, unclear, late, missed] = [fired("wrong"), fired("looks wrong"), fired("unclear"), became("late"), became("missed")];
  return {
    firings: firings.length,
    wrong,
    looksWrong,
    unclear,
    wanted: wanted.length,
    late,
    missed,
    wrongPerYear: rateEstimate(wrong + looksWrong + unclear, (onMs + offMs) / YEAR_MS, own, "per year"),
    missedShare: shareEstimate(missed + late, wanted.length, own),
    delay: quantileEstimate(wanted.flatMap((one) => one.delaySeconds ?? []), 0.5, own, "seconds"),
  };
}
