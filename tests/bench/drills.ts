/**
 * `npm run bench`: a year of six bays and 30 signals, every drill of every rule, against one plain replay of each rule.
 * Counts are checked as well as timed: a fast wrong answer is worth nothing.
 */
import { drillRule } from "../../src/judge/drills/drill.js";
import { makeFaultedHistories } from "../../src/judge/drills/faults.js";
import { hostileCases } from "../../src/judge/drills/hostile.js";
import { makeReferenceBook } from "../../src/truth/reference/book.js";
import { overHistory, replay } from "../../src/judge/replay/replay.js";
import { prepareRule } from "../../src/judge/rule/prepare.js";
import { causeGroups } from "../../src/site/cause-groups.js";
import { quicklyFaulted, replayedDrill, targetsOf } from "../judge/drills/replayed-drill.js";
import { makeYearOfBays } from "./year-of-bays.js";
import { type Drill, faults } from "../../src/result/trials.js";

const RUNS = 5;
/** Drills that are checked against a full replay, spread over all of them. */
const CHECKED = 12;

function timed<T>(run: () => T): { readonly result: T; readonly ms: number } {
  const runs = Array.from({ length: RUNS }, () => {
    const from = performance.now();
    const result = run();
    return { result, ms: performance.now() - from };
  });
  return runs.toSorted((a, b) => a.ms - b.ms)[Math.floor(RUNS / 2)]!;
}

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const { site, rules, accounts, period, steps } = makeYearOfBays(20261025);
const history = { period, accounts, book: makeReferenceBook(site, accounts, [], period), groups: causeGroups(site.signals) };
say(`12 months, 6 bays, ${site.signals.length} signals, ${steps.toLocaleString("en")} steps; median of ${RUNS} runs`);
for (const rule of rules) {
  const prepared = prepareRule(site, rule);
  const plain = timed(() => replay(prepared, accounts));
  const drilled = timed(() => drillRule(overHistory(prepared, history), makeFaultedHistories()));
  const hostile = timed(() => hostileCases(prepared));
  const targets = targetsOf(prepared);
  const drills: readonly Drill[] = drilled.result;
  if (drills.length !== targets.length * faults.length) throw new Error(`${rule.name}: ${drills.length} drills instead of ${targets.length * faults.length}`);
  for (let i = 0; i < CHECKED; i += 1) {
    const drill = drills[Math.floor((i * drills.length) / CHECKED)]!;
    const twin = replayedDrill(quicklyFaulted, drill, drill.fault, overHistory(prepared, history));
    if (JSON.stringify(twin) !== JSON.stringify(drill)) throw new Error(`${rule.name}: ${JSON.stringify(drill)} is ${JSON.stringify(twin)} by full replay`);
  }
  const each = drilled.ms / drills.length;
  say(
    `  ${rule.name}: ${plain.result.firings.length} firings; one replay ${plain.ms.toFixed(1)} ms; ${drills.length} drills ${drilled.ms.toFixed(0)} ms = ` +
      `${(drilled.ms / plain.ms).toFixed(0)} replays, ${(each / plain.ms).toFixed(2)} of a replay each; hostile scenes ${hostile.ms.toFixed(1)} ms; ${CHECKED} drills equal to a full replay`,
  );
}
