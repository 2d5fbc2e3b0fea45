import type { Act } from "../../site/site.js";
import { comesMoreOften } from "../../statistics/trend.js";
import { occasionStarts, runStarts } from "./occasions.js";
import type { FiringJudgement } from "../replay/outcomes.js";
import type { WantedOutcome } from "../replay/wanted.js";
import { actNouns } from "../rule/words.js";
import type { Interval } from "../../ground/intervals.js";

/** A rule that gets worse by chance alone this seldom is not cleared. Our own choice: it only withholds. */
const TREND_CHANCE = 0.05;

/**
 * Sentences about what got worse within the period: verified wrong firings, and verified missed or late instants, by the beginnings of
 * their occasions and runs. A mean over a month says nothing about tomorrow when the last ten days were the bad ones.
 */
export function worseningTexts(act: Act, firings: readonly FiringJudgement[], wanted: readonly WantedOutcome[], period: Interval): string[] {
  const { many } = actNouns[act];
  const wrong = occasionStarts(firings.filter((one) => one.outcome === "wrong").map((one) => one.at));
  const verified = wanted.filter((one) => one.verified);
  const failed = runStarts(verified.map((one) => one.outcome !== "served"));
  const told = (what: string, places: readonly number[]): string[] =>
    comesMoreOften(places, TREND_CHANCE) === true ? [`${what} come more and more often within the period, so its mean says little about what comes next.`] : [];
  return [
    ...told(`Wrong ${many}`, wrong.map((at) => (at - period.from) / (period.to - period.from))),
    ...told(`Missed or late ${many}`, failed.map((place) => (place + 0.5) / verified.length)),
  ];
}
