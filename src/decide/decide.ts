import { union, type Interval } from "../ground/intervals.js";
import { MINUTE_MS } from "../ground/units.js";
import { localWords } from "../judge/questions/local-words.js";
import type { Decision } from "../result/decision.js";
import type { Undecided } from "../result/findings.js";
import { stepsOf } from "../result/history-steps.js";
import { headlineOf } from "./headline.js";
import { roadsOf } from "./roads.js";
import { seenText, shortfallText } from "./seen.js";
import { stepsFor } from "./steps.js";
import { worstScene } from "./worst.js";

/** What a decision takes besides the findings. */
export interface DecideContext {
  /** The site file's own name, for commands to type. */
  readonly siteFile: string;
  /** The times that the diary tells of. */
  readonly diary: readonly Interval[];
}

/** Shorter ones would not show. Our own choice. */
const LEAST_UNHEARD_MS = 10 * MINUTE_MS;

function unheardIn({ histories, period }: Undecided, name: string): Interval[] {
  const steps = stepsOf(histories?.rules.find(({ rule }) => rule === name)?.steps ?? "f0", period.from);
  return steps.flatMap(({ at, state }, i) => {
    const to = steps[i + 1]?.at ?? period.to;
    return state === 2 && to - at >= LEAST_UNHEARD_MS ? [{ from: at, to }] : [];
  });
}

/**
 * What to do with the rules, in words and numbers that stand in the findings already: nothing is judged here. A pure
 * function; the report's first screen, the terminal and whoever reads findings.json say the same.
 */
export function decide(findings: Undecided, { siteFile, diary }: DecideContext): Decision {
  const { period, site, questions } = findings;
  const { hour, date } = localWords(site.timeZone);
  return {
    headline: headlineOf(findings),
    rules: findings.rules.map((rule, i) => ({
      rule: rule.name,
      seen: seenText(rule, { hour, date, diaryEnds: questions.diaryEnds, asked: questions.rules.find((one) => one.rule === rule.name) ?? null, saidBefore: questions.rules.slice(0, i).some(({ afterDiary }) => afterDiary > 0) }),
      shortfall: shortfallText(rule),
      steps: stepsFor(rule, findings, siteFile),
      roads: roadsOf(rule),
      unheard: unheardIn(findings, rule.name),
      worst: worstScene(rule, findings),
    })),
    diary: union(diary.map(({ from, to }) => ({ from: Math.max(from, period.from), to: Math.min(to, period.to) })).filter(({ from, to }) => from < to)),
  };
}
