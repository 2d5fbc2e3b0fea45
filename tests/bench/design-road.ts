/**
 * `npm run bench`: the road of design of ten rules over a year of 30 signals with false reports of their own: stretches of the
 * parts, bounds, slides and the test by days; and the search for a gap, with its limits, of rules about six subjects.
 */
import { designFigures, designRoad } from "../../src/judge/design/road.js";
import { gapFinding } from "../../src/judge/gap/finding.js";
import { searchGap } from "../../src/judge/gap/search.js";
import { overHistory, type RuleOverHistory } from "../../src/judge/replay/replay.js";
import { prepareRule } from "../../src/judge/rule/prepare.js";
import { causeGroups } from "../../src/site/cause-groups.js";
import type { Expression } from "../../src/site/expression.js";
import type { RuleSpec } from "../../src/site/site.js";
import { randomStream } from "../../src/simulate/random.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { patched } from "../../src/timeline/patched.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { type Timeline, UNKNOWN } from "../../src/timeline/timeline.js";
import { makeReferenceBook } from "../../src/truth/reference/book.js";
import { makeYearOfBays, type YearOfBays } from "./year-of-bays.js";

const MINUTE_MS = 60_000;
const RULES = 10;
/** Each rule is about as many bays and as many people. */
const OF_EACH = 3;
/** On average; each lasts 1 to 20 minutes. */
const FALSE_REPORTS_A_YEAR = 250;
const TARGETS = { roadsSeconds: 10, gapSeconds: 1 };

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const year = withFalseReports(makeYearOfBays(20261025), 20261126);
const { site, accounts, period } = year;
const history = { period, accounts, book: makeReferenceBook(site, accounts, [], period), groups: causeGroups(site.signals) };
const lags = new Map(site.signals.map(({ id, kind }) => [id, { leastMs: 0, mostMs: kind === "phone" ? 2 * MINUTE_MS : MINUTE_MS }]));
const rules = Array.from({ length: RULES }, (_, i): RuleOverHistory => overHistory(prepareRule(site, unlockRule(i)), history));

const begun = performance.now();
const seen = rules.map((rule) => {
  const road = designRoad(rule, { lags, seen: [], tests: [] }, { searched: true, why: null, scene: null, freeUntil: [] });
  if (road.history === null) throw new Error(`${rule.spec.name}: ${road.conditions.map(({ text }) => text).join(" ")}`);
  const figures = designFigures(road.history, { commonShare: road.commonShare, noSharedHoursBecause: null }, 12, { wrong: 0, unconfirmed: 0, years: 1, leastShare: 1 }, { confidence: 0.95, limitPerYear: 1 });
  if (figures.bound === null || figures.slid === null) throw new Error(`${rule.spec.name}: nothing was worked out`);
  return { bound: figures.bound, stretches: road.history.parts.map(({ stretches }) => stretches.length) };
});
const roads = (performance.now() - begun) / 1000;
const gaps = rules.map((rule) => {
  const from = performance.now();
  const { searched, why } = searchGap(rule, lags);
  if (!searched) throw new Error(`${rule.spec.name}: ${why}`);
  gapFinding(rule, lags, false);
  return (performance.now() - from) / 1000;
});
const falseStretches = seen.map(({ stretches }) => stretches.reduce((sum, count) => sum + count, 0));
say(
  `road of design: ${RULES} rules over ${site.signals.length} signals and a year, ${Math.min(...falseStretches)} to ${Math.max(...falseStretches)} false stretches a rule: ${roads.toFixed(2)} s (target ${TARGETS.roadsSeconds} s); ` +
    `gaps of rules about ${2 * OF_EACH} subjects: ${Math.min(...gaps).toFixed(2)} to ${Math.max(...gaps).toFixed(2)} s each (target ${TARGETS.gapSeconds} s)`,
);

function unlockRule(number: number): RuleSpec {
  const turned = (ref: string, withinMs: number): Expression => ({ op: "turned", ref, to: 1, withinMs });
  const bays = Array.from({ length: OF_EACH }, (_, i) => `bay-${(number + i) % 6}`);
  const people = Array.from({ length: OF_EACH }, (_, i) => `person-${(number + i) % 4}`);
  const anyOf = (refs: readonly string[], withinMs: number): Expression => ({ op: "any", of: refs.map((ref) => turned(ref, withinMs)) });
  return {
    name: `unlock ${number + 1}`, act: "unlock", restMs: 5 * MINUTE_MS, line: null, rightWhenIsDefault: false,
    when: { op: "all", of: [anyOf(bays.map((bay) => `${bay}-${number % 3}`), 2 * MINUTE_MS), anyOf(people.map((person) => `${person}-${number % 2}`), 10 * MINUTE_MS)] },
    rightWhen: { op: "all", of: [anyOf(bays, 20 * MINUTE_MS), anyOf(people, 20 * MINUTE_MS)] },
  };
}

/** Every signal says the opposite now and then, by itself. */
function withFalseReports(plain: YearOfBays, seed: number): YearOfBays {
  const random = randomStream(seed, "false reports");
  const span = plain.period.to - plain.period.from;
  const told = [...plain.accounts].map(([id, one]) => {
    const starts = Array.from({ length: FALSE_REPORTS_A_YEAR }, () => plain.period.from + random() * (span - 60 * MINUTE_MS)).sort((a, b) => a - b);
    const patches: Timeline[] = [];
    for (const start of starts) {
      const end = start + (1 + 19 * random()) * MINUTE_MS;
      const state = stateAt(one.live, start);
      if (state !== UNKNOWN && start >= (patches.at(-1)?.end ?? start)) patches.push(canonicalTimeline(start, end, [start], [1 - state]));
    }
    const live = patched(one.live, patches);
    return [id, { ...one, account: live, live }] as const;
  });
  return { ...plain, accounts: new Map(told) };
}
