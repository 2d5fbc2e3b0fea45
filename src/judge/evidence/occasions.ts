import { HOUR_MS } from "../../ground/units.js";
import { comesMoreOften } from "../../statistics/trend.js";
import type { FiringJudgement } from "../replay/firing-outcomes.js";
import type { RuleOverHistory } from "../replay/replay.js";
import type { WantedOutcome } from "../replay/wanted-outcomes.js";
import { actNouns } from "../rule/words.js";

/**
 * Wrong firings less than this apart are one occasion: one bad night is one piece of evidence, however often the door
 * moved. Our own choice: six hours, so that an evening and the next morning stay apart.
 */
const OCCASION_MS = 6 * HOUR_MS;

/** The instant at which each occasion begins. `instants` in order. */
function occasionStarts(instants: readonly number[]): number[] {
  return instants.filter((at, i) => at - (instants[i - 1] ?? -Infinity) >= OCCASION_MS);
}

/** How many of the instants (in order) each occasion holds. */
export function occasionSizes(instants: readonly number[]): number[] {
  const starts = occasionStarts(instants);
  return starts.map((start, i) => instants.filter((at) => at >= start && at < (starts[i + 1] ?? Infinity)).length);
}

/** Where each run of failures begins: a place in the list. */
function runStarts(failed: readonly boolean[]): number[] {
  return failed.flatMap((one, i) => (one && failed[i - 1] !== true ? [i] : []));
}

/** The lengths of the runs of failures, in order: a phone that is lost for two days fails several times in a row. */
export function failureRuns(failed: readonly boolean[]): number[] {
  return runStarts(failed).map((start) => {
    const end = failed.indexOf(false, start);
    return (end < 0 ? failed.length : end) - start;
  });
}

/**
 * A rule that seems to get worse is not cleared if chance alone would do that this rarely. Our own choice: it only
 * withholds.
 */
const TREND_CHANCE = 0.05;

/**
 * Sentences about what got worse within the period: verified wrong firings, and verified missed or late instants, each
 * by when its occasions or runs begin. A mean over a month says nothing about tomorrow when the last ten days were the
 * bad ones.
 */
export function worseningTexts({ spec, history: { period } }: RuleOverHistory, firings: readonly FiringJudgement[], wanted: readonly WantedOutcome[]): string[] {
  const { many } = actNouns[spec.act];
  const wrong = occasionStarts(firings.filter((one) => one.outcome === "wrong").map((one) => one.at));
  const verified = wanted.filter((one) => one.verified);
  const failed = runStarts(verified.map((one) => one.outcome !== "served"));
  const told = (what: string, places: readonly number[]): string[] =>
    comesMoreOften(places, TREND_CHANCE) === true ? [`${what} come more and more often within the period, so the average says little about what comes next.`] : [];
  return [
    ...told(`Wrong ${many}`, wrong.map((at) => (at - period.from) / (period.to - period.from))),
    ...told(`Missed or late ${many}`, failed.map((place) => (place + 0.5) / verified.length)),
  ];
}
