/**
 * How good is the reference? `npm run study` simulates months of one bay whose truth is known and writes the table in
 * docs/study-reference.md to standard output. Seeded: the same table every time.
 */
import { makeReferenceBook } from "../../src/truth/reference/book.js";
import { detectedPairs, findDependences } from "../../src/truth/reference/dependence.js";
import { referenceModels } from "../../src/truth/reference/models.js";
import { overlap } from "../../src/timeline/overlap.js";
import type { Timeline, Turn } from "../../src/timeline/timeline.js";
import { turned } from "../../src/timeline/turned.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { majorityVote } from "./majority-vote.js";
import { MONTH, seeded, simulateMonth, type StudyCase } from "./study-site.js";

const MONTHS_A_CASE = Number(process.env["MONTHS"] ?? 40);
const CLOSE_MS = 30_000;
const JOIN_MS = 600_000;
const errorShares = [0.001, 0.01, 0.05, 0.1];

interface Placed {
  transitions: number;
  close: number;
  invented: number;
  wrongShare: number;
  unknownShare: number;
}

const cases: StudyCase[] = [1, 2, 3, 4].flatMap((witnesses) =>
  [false, true].flatMap((door) => (witnesses === 1 ? [false] : [false, true]).flatMap((shared) => errorShares.map((errorShare) => ({ witnesses, shared, errorShare, door })))),
);

const rows = cases.map((one, i) => rowOf(one, 1000 * (i + 1)));
process.stdout.write(`${MONTHS_A_CASE} months a row, ${cases.length} rows, ${MONTHS_A_CASE * cases.length} simulated months.\n\n`);
process.stdout.write("| witnesses | board shared | door | true rate | told apart | bias | covered | within 30 s: model | within 30 s: majority | wrong time: model | wrong time: majority | unknown: model | unknown: majority | invented a month: model | invented a month: majority |\n");
process.stdout.write(`|${" ---: |".repeat(15)}\n`);
process.stdout.write(rows.join("\n") + "\n");

// Whether a state told with a probability is right as often as that: without looking for undeclared dependence, and with it.
process.stdout.write("\n| first two witnesses | witnesses | door | found | other pairs found | right of 0.90–0.99: not looked for | looked for | right above 0.99: not looked for | looked for | unknown time: not looked for | looked for |\n");
process.stdout.write(`|${" ---: |".repeat(11)}\n`);
const dependent = [undefined, "same second", "own lags"] as const;
dependent.forEach((twins, i) => {
  for (const witnesses of [2, 3, 4]) for (const door of [false, true]) process.stdout.write(reliabilityRow(twins, witnesses, door, 1_000_000 * (i + 1) + 1000 * witnesses + Number(door)) + "\n");
});

interface Bin {
  told: number;
  right: number;
}

/** States told for more than a minute, at all true rates together. */
function reliabilityRow(twins: StudyCase["twins"], witnesses: number, door: boolean, seed: number): string {
  const random = seeded(seed);
  const looks = [0, 1].map(() => ({ low: { told: 0, right: 0 }, high: { told: 0, right: 0 }, unknownMs: 0 }));
  let [found, others, months] = [0, 0, 0];
  for (const errorShare of errorShares) {
    for (let month = 0; month < MONTHS_A_CASE; month += 1) {
      const { site, accounts, truth } = simulateMonth({ witnesses, shared: false, errorShare, door, ...(twins === undefined ? {} : { twins }) }, random);
      const pairs = detectedPairs(findDependences(site, accounts, [], MONTH));
      months += 1;
      if (pairs.some((pair) => pair.join() === "w0,w1")) found += 1;
      if (pairs.some((pair) => pair.join() !== "w0,w1")) others += 1;
      [[], pairs].forEach((detected, look) => {
        for (const { from, to, state, probability } of makeReferenceBook(site, accounts, [], MONTH, detected)("bay", []).segments) {
          if (state === 2) looks[look]!.unknownMs += to - from;
          if (state === 2 || to - from < 60_000) continue;
          const bin = probability > 0.99 ? looks[look]!.high : looks[look]!.low;
          bin.told += 1;
          if (stateAt(truth, (from + to) / 2) === state) bin.right += 1;
        }
      });
    }
  }
  const right = ({ told, right: count }: Bin): string => (told === 0 ? "none told" : `${((100 * count) / told).toFixed(1)} % of ${told}`);
  const unknown = (look: number): string => `${((100 * looks[look]!.unknownMs) / months / (MONTH.to - MONTH.from)).toFixed(2)} %`;
  return `| ${[twins === undefined ? "independent" : `one sensor, ${twins}`, witnesses, door ? "yes" : "no", `${found} of ${months}`, `${others} of ${months}`, right(looks[0]!.low), right(looks[1]!.low), right(looks[0]!.high), right(looks[1]!.high), unknown(0), unknown(1)].join(" | ")} |`;
}

function rowOf(given: StudyCase, seed: number): string {
  const random = seeded(seed);
  const model: Placed = { transitions: 0, close: 0, invented: 0, wrongShare: 0, unknownShare: 0 };
  const majority: Placed = { ...model };
  let [told, error, rates, covered, intervals] = [0, 0, 0, 0, 0];
  for (let month = 0; month < MONTHS_A_CASE; month += 1) {
    const { site, accounts, truth } = simulateMonth(given, random);
    add(model, makeReferenceBook(site, accounts, [], MONTH)("bay", []).timeline, truth);
    add(majority, majorityVote([...accounts.values()].filter((one) => one.signal !== "door").map((one) => one.account)), truth);
    const [report] = referenceModels(site, accounts, [], MONTH);
    if (report!.identified) told += 1;
    for (const { saysOnGivenOff, saysOffGivenOn } of report!.witnesses) {
      for (const { value, low, high } of [saysOnGivenOff, saysOffGivenOn]) {
        if (value === null) continue;
        error += value - given.errorShare;
        rates += 1;
        if (low === null || high === null) continue;
        intervals += 1;
        if (low <= given.errorShare && given.errorShare <= high) covered += 1;
      }
    }
  }
  const percent = (share: number, digits = 1): string => `${(100 * share).toFixed(digits)} %`;
  return `| ${[
    given.witnesses,
    given.shared ? "first two" : "no",
    given.door ? "yes" : "no",
    percent(given.errorShare),
    percent(told / MONTHS_A_CASE, 0),
    rates === 0 ? "cannot be told apart" : `${error >= 0 ? "+" : "−"}${percent(Math.abs(error / rates), 2)}`,
    rates === 0 ? "–" : `${percent(covered / rates, 0)}${intervals < rates ? ` (${percent(1 - intervals / rates, 0)} without)` : ""}`,
    ...[model, majority].map((one) => percent(one.close / one.transitions)),
    ...[model, majority].map((one) => percent(one.wrongShare / MONTHS_A_CASE, 2)),
    ...[model, majority].map((one) => percent(one.unknownShare / MONTHS_A_CASE, 2)),
    ...[model, majority].map((one) => (one.invented / MONTHS_A_CASE).toFixed(2)),
  ].join(" | ")} |`;
}

function add(to: Placed, found: Timeline, truth: Timeline): void {
  const totals = overlap(found, truth);
  const length = MONTH.to - MONTH.from;
  to.wrongShare += (totals[1]! + totals[3]!) / length;
  to.unknownShare += (totals[6]! + totals[7]!) / length;
  for (const state of [0, 1] as const) {
    const real = turned(truth, state, { bridgeMs: 0, barriers: [] });
    const claimed = turned(found, state, { bridgeMs: JOIN_MS, barriers: [] });
    to.transitions += real.length;
    to.close += real.filter((one) => nearest(claimed, one.at) <= CLOSE_MS).length;
    to.invented += claimed.filter((one) => nearest(real, one.at) > JOIN_MS).length;
  }
}

function nearest(turns: readonly Turn[], instant: number): number {
  return Math.min(Infinity, ...turns.map((one) => Math.abs(one.at - instant)));
}
