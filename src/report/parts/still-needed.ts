import { partHeadings } from "./section.js";
import { aloneAtTimes } from "../deciding-numbers.js";
import { amountText, countOf, countText, perCentText } from "../format.js";
import { MONTHS_PER_YEAR } from "../../ground/units.js";
import type { RuleQuestions } from "../../result/questions.js";
import type { RuleFinding } from "../../result/rules.js";

/**
 * What would change a rule's verdict, a sentence each. What somebody can do comes before what only time can; `asked` says
 * what answers can do, null where nobody looked.
 */
export function stillNeeded(rule: RuleFinding, asked: RuleQuestions | null): string[] {
  return [
    ...singlePointSentences(rule),
    ...atTimesSentences(rule),
    ...answerSentences(rule, asked),
    ...wrongSentences(rule),
    ...missedSentences(rule),
  ];
}

/** Longer waits are no plan for a household. Our own choice. */
const MOST_YEARS_TOLD = 2;

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
  const { moreMonths } = evidence;
  if (wrongPerYear.limit === null) return [`The site file sets no limit for a wrong ${act}, so no length of history can meet it: set one.`];
  const limit = amountText(wrongPerYear.limit);
  if (moreMonths === null) return [`Counting cannot show the limit of ${limit} a year: at some hours of the day nobody could confirm anything.`];
  if (moreMonths === 0) return [`The history is long enough to count up to the limit of ${limit} wrong a year.`];
  const years = moreMonths / MONTHS_PER_YEAR;
  if (years > MOST_YEARS_TOLD) return [`Counting alone takes more than ${MOST_YEARS_TOLD} years to show the limit of ${limit} a year.`];
  return [`Still needed: ${monthsText(moreMonths)} of history without a wrong firing until counting shows the limit of ${limit} a year.`];
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

function answerSentences({ firings }: RuleFinding, asked: RuleQuestions | null): string[] {
  if (asked === null || firings.unverified === 0) return [];
  return [asked.settledBy === null ? asked.why : `${asked.why} See “${partHeadings.confirm}”.`];
}

function monthsText(months: number): string {
  const whole = Math.ceil(months);
  const years = months / MONTHS_PER_YEAR;
  return `${countOf(whole, "month")} of 30 days${years >= 2 ? ` (${amountText(years, 2)} years)` : ""}`;
}
