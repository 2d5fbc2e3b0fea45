import type { RuleFinding } from "../../result/schema.js";
import { partHeadings } from "./section.js";
import { aloneAtTimes } from "../deciding-numbers.js";
import { amountText, countOf, countText, perCentText } from "../format.js";
import { MONTHS_PER_YEAR } from "../../ground/units.js";

/** What would change a rule's verdict, a sentence each. What somebody can do comes before what only time can. */
export function stillNeeded(rule: RuleFinding): string[] {
  return [
    ...singlePointSentences(rule),
    ...atTimesSentences(rule),
    ...unverifiedSentences(rule),
    ...wrongSentences(rule),
    ...missedSentences(rule),
  ];
}

function singlePointSentences({ singlePoints, act }: RuleFinding): string[] {
  const names = [...singlePoints.causes, ...singlePoints.signals];
  if (names.length === 0) return [];
  const who = `${names.join(", ")}: ${names.length === 1 ? "it" : "each of them"} alone, by lying, can make the rule ${act}`;
  if (act === "lock" || act === "arm") return [`${who}. That does not decide about a rule that ${act}s, but is worth knowing.`];
  return [`${who}, and no amount of history mends that: the rule needs a condition that depends on something else.`];
}

function atTimesSentences(rule: RuleFinding): string[] {
  const names = aloneAtTimes(rule);
  if (names.length === 0) return [];
  const [who, it] = names.length === 1 ? ["it alone", "it"] : ["each of them alone", "them"];
  const alone = `${names.join(", ")}: ${who}, by lying, could at times have made the rule ${rule.act}`;
  const remedy = `the rule needs a further condition that does not depend on ${it}`;
  return [`${alone}, for the rest of its condition held anyway. No amount of history mends that: ${remedy}.`];
}

function wrongSentences(rule: RuleFinding): string[] {
  const { wrongPerYear, act } = rule;
  const evidence = rule.cumulated ?? rule.evidence;
  const { firings } = rule.cumulated ?? rule;
  const asWrong = evidence.moreMonthsIfUnverifiedWrong;
  const asRight = evidence.moreMonthsIfUnverifiedRight;
  if (wrongPerYear.limit === null) return [`The site file sets no limit for a wrong ${act}, so no length of history can meet it: set one.`];
  if (asWrong === null || asRight === null) return [`How much more history the limit for a wrong ${act} needs could not be worked out.`];
  const limit = amountText(wrongPerYear.limit);
  if (asWrong === 0) return [`The history is long enough for the limit of ${limit} wrong a year, even with unverified firings taken as wrong.`];
  const further = `${monthsText(asWrong)} of history without a wrong or unverified firing until the limit of ${limit} a year is met`;
  if (firings.unverified === 0 || asRight >= asWrong) return [`Still needed: ${further}.`];
  const otherwise = asRight === 0 ? "none" : monthsText(asRight);
  return [`Still needed: ${further}; ${otherwise}, should every unverified firing turn out right.`];
}

function missedSentences(rule: RuleFinding): string[] {
  const { limit } = rule.missedShare;
  const evidence = rule.cumulated ?? rule.evidence;
  const { wanted } = rule.cumulated ?? rule;
  if (wanted.count === 0) return ["It was never wanted in this period: nothing can be said about what it misses."];
  if (limit === null) return ["The site file sets no limit for missed moments."];
  const { moreWantedServed: more } = evidence;
  const limited = `the limit of ${perCentText(limit)} missed`;
  if (more === null) return [`No number of further moments, all confirmed and in time, can be named that meets ${limited}.`];
  if (more === 0) return [`Enough wanted moments were seen for ${limited}.`];
  return [`Still needed: ${countText(more)} further wanted moments, all confirmed and in time, until ${limited} is met.`];
}

function unverifiedSentences({ firings }: RuleFinding): string[] {
  if (firings.unverified === 0) return [];
  const moments = countOf(firings.unverified, "unverified moment");
  const settled = firings.unverified === 1 ? "it" : "them";
  return [`Writing down what happened at the ${moments} would settle ${settled}, one way or the other: see “${partHeadings.confirm}”.`];
}

function monthsText(months: number): string {
  const whole = Math.ceil(months);
  const years = months / MONTHS_PER_YEAR;
  return `${countOf(whole, "month")} of 30 days${years >= 2 ? ` (${amountText(years, 2)} years)` : ""}`;
}
