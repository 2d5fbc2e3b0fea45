import { describe, expect, test } from "vitest";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { dependenceNotes, detectedPairs, findDependences } from "../../../src/truth/reference/dependence.js";
import { turnTogether } from "../../../src/truth/reference/dependence-tests.js";
import { witnessesOf } from "../../../src/truth/reference/witness.js";
import { causeGroups } from "../../../src/site/cause-groups.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { MONTH, seeded, simulateMonth } from "../../study/study-site.js";
import { readingsOf } from "../../intake/packed.js";
import { accountOf, DAY, HOUR, MINUTE } from "./small-witnesses.js";

const pairsIn = (month: ReturnType<typeof simulateMonth>): string[] => detectedPairs(findDependences(month.site, month.accounts, [], MONTH)).map((pair) => pair.join("+"));

describe("two of three witnesses that are one sensor under two names", () => {
  const month = simulateMonth({ witnesses: 3, shared: false, errorShare: 0.05, door: false, twins: "same second" }, seeded(11));
  const found = findDependences(month.site, month.accounts, [], MONTH);

  test("are found by the seconds of their turns, and told with the numbers", () => {
    expect(found.map(({ signals, how }) => [signals, how])).toEqual([[["w0", "w1"], "turns"]]);
    expect(dependenceNotes(found)).toEqual([expect.stringMatching(/^w0 and w1 changed in the same second at (\d+) of \1 turns: they count as one sensor until the site file says what they share \(“shares”\) or why they are independent \(“independent”\)\.$/)]);
  });

  test("count as one: nobody else, and nothing is several", () => {
    expect(new Set(makeReferenceBook(month.site, month.accounts, [], MONTH)("bay", ["w2"]).segments.map(({ basis }) => basis))).toEqual(new Set(["several"]));
    const told = makeReferenceBook(month.site, month.accounts, [], MONTH, detectedPairs(found));
    for (const { basis, probability } of told("bay", ["w2"]).segments) {
      expect(basis).toBe("one");
      expect(probability).toBeLessThanOrEqual(0.95);
    }
    expect(causeGroups(month.site.signals, detectedPairs(found)).get("w1")).toBe("w0");
  });

  test("do not outvote the third: where they differ from it nobody knows", () => {
    const wrongFor = (detected: readonly (readonly [string, string])[]): number =>
      makeReferenceBook(month.site, month.accounts, [], MONTH, detected)("bay", []).segments.filter(({ from, to, state }) => state !== 2 && to - from > MINUTE && state !== truthAt(month, (from + to) / 2)).length;
    expect(wrongFor([])).toBeGreaterThan(2);
    // Once all three are wrong by chance.
    expect(wrongFor(detectedPairs(found))).toBeLessThanOrEqual(1);
  });

  test("are two again once the site file says so, which is told", () => {
    const site = { ...month.site, signals: month.site.signals.map((one) => (one.id === "w1" ? { ...one, independent: { of: ["w0"], because: "one is on the wall, the other in the floor" } } : one)) };
    const declared = findDependences(site, month.accounts, [], MONTH);
    expect(detectedPairs(declared)).toEqual([]);
    expect(dependenceNotes(declared)).toEqual([expect.stringContaining("They still count as two independent sensors, because the site file says so.")]);
  });
});

function truthAt({ truth }: ReturnType<typeof simulateMonth>, instant: number): number {
  return truth.states[truth.times.findLastIndex((at) => at <= instant)]!;
}

test("honest months of two to four witnesses that see the same event each in its own time give no alarm", () => {
  const random = seeded(3);
  const alarms = [2, 3, 4].flatMap((witnesses) => [false, true].flatMap((door) => Array.from({ length: 12 }, () => pairsIn(simulateMonth({ witnesses, shared: false, errorShare: 0.05, door }, random))))).flat();
  expect(alarms).toEqual([]);
});

test("signals that share a declared cause are not looked at", () => {
  const month = simulateMonth({ witnesses: 3, shared: true, errorShare: 0.05, door: false, twins: "same second" }, seeded(11));
  expect(findDependences(month.site, month.accounts, [], MONTH)).toEqual([]);
});

describe("witnesses that see true turns each in their own time", () => {
  test("are found by being wrong together, where two others vouch; their instants show nothing", () => {
    const month = simulateMonth({ witnesses: 4, shared: false, errorShare: 0.1, door: true, twins: "own lags" }, seeded(4));
    const found = findDependences(month.site, month.accounts, [], MONTH).filter(({ signals }) => signals.includes("w0"));
    expect(found.map(({ signals, how }) => [signals, how])).toEqual([[["w0", "w1"], "errors"]]);
    expect(found[0]!.text).toMatch(/^were wrong together \d+ times \(\d+ and \d+ times in all\)$/);
  });

  test("are found by the seconds of turns that a third denies", () => {
    const { accounts, site } = doorMonth(inItsOwnTime, [3, 9, 14, 20, 26].map((day) => day * DAY + 3 * HOUR));
    expect(findDependences(site, accounts, [], MONTH).map(({ signals, how, text }) => [signals, how, text])).toEqual([
      [["rail", "hinge"], "turns", expect.stringMatching(/^changed at their usual lag, to the second, in 5 of 5 changes that no other sensor saw, and in \d+ of 120 that another one saw$/)],
    ]);
  });

  test("are judged by how often the lag keeps to the second at true turns, with one more that does", () => {
    const { accounts, site } = doorMonth(inItsOwnTime, [3, 9, 14, 20, 26].map((day) => day * DAY + 3 * HOUR));
    const [rail, hinge, beam] = witnessesOf(site, accounts);
    const found = turnTogether()(rail!, hinge!, [beam!]);
    expect(found).toHaveLength(1);
    const [, kept, seen] = /5 of 5 changes .* in (\d+) of (\d+) that another one saw$/.exec(found[0]!.text)!.map(Number);
    expect(seen).toBe(120);
    expect(found[0]!.chance).toBeCloseTo(((kept! + 1) / (seen! + 1)) ** 5, 15);
  });

  test("are denied by a third that turned the other way just before", () => {
    // Every fourth closing is followed by a false opening within the half minute in which doors' turns belong together:
    // the third closed then, which confirms no opening.
    const { accounts, site } = doorMonth(inItsOwnTime, [], (i) => i % 12 === 0);
    const found = findDependences(site, accounts, [], MONTH);
    expect(found.map(({ signals, how }) => [signals, how])).toEqual([[["rail", "hinge"], "turns"]]);
    expect(found[0]!.text).toMatch(/changed at their usual lag, to the second, in 5 of 5 changes that no other sensor saw, and in \d+ of 120 that another one saw/);
  });

  test("are not found when one recorder asks all of them at the same instants", () => {
    const { accounts, site } = doorMonth((at) => at, []);
    const readings = new Map(["rail", "hinge", "beam"].map((id) => [id, readingsOf(id, Array.from({ length: 30 * 720 }, (_, i) => [i * 2 * MINUTE, 0]))]));
    expect(findDependences(site, accounts, [], MONTH, readings)).toEqual([]);
    expect(findDependences(site, accounts, [], MONTH)).not.toEqual([]);
  });
});

/** Up to 20 s late, in whole seconds. */
const inItsOwnTime = (at: number, random: () => number): number => at + Math.round(random() * 20) * 1000;

/**
 * A door with two openings a day and three contacts; each sees it when `seenAt` says. `rail` and `hinge` also open for a minute at `glitches`, and 22 s after the
 * closing of each opening that `bounces` names.
 */
function doorMonth(seenAt: (at: number, random: () => number) => number, glitches: readonly number[], bounces: (opening: number) => boolean = () => false) {
  const random = seeded(7);
  const { site: base } = simulateMonth({ witnesses: 3, shared: false, errorShare: 0, door: false }, random);
  const openings = Array.from({ length: 60 }, (_, i) => i * 12 * HOUR + 8 * HOUR + Math.round(random() * HOUR));
  const ids = ["rail", "hinge", "beam"];
  const lines = ids.map((id) => {
    const steps = openings.flatMap((at): [number, TruthState][] => [[seenAt(at, random), 1], [seenAt(at + 5 * MINUTE, random), 0]]);
    const falseOpenings = [...glitches, ...openings.filter((_, i) => bounces(i)).map((at) => at + 5 * MINUTE + 21_000)];
    if (id !== "beam") for (const at of falseOpenings) steps.push([at + 1234, 1], [at + MINUTE, 0]);
    return timelineOf(0, MONTH.to, [[0, 0], ...steps.sort((a, b) => a[0] - b[0])]);
  });
  const site = { ...base, subjects: [{ id: "gate", class: "door" as const, vehicle: null }], signals: base.signals.map((one, i) => ({ ...one, id: ids[i]!, subject: "gate" })) };
  return { site, accounts: new Map(ids.map((id, i) => [id, accountOf(id, lines[i]!)])) };
}

describe("silences", () => {
  /** Unknown for ten minutes from each of these instants. */
  const dark = (since: readonly number[]) => timelineOf(0, MONTH.to, [[0, 0], ...since.flatMap((at): [number, TruthState][] => [[at, 2], [at + 10 * MINUTE, 0]])]);
  const { site: base } = simulateMonth({ witnesses: 4, shared: false, errorShare: 0, door: false }, seeded(1));
  const site = { ...base, subjects: [...base.subjects, { id: "mira", class: "person" as const, vehicle: null }], signals: base.signals.map((one) => (one.id === "w3" ? { ...one, subject: "mira" } : one)) };
  const found = (since: readonly (readonly number[])[]) => findDependences(site, new Map(since.map((one, w) => [`w${w}`, accountOf(`w${w}`, dark(one))])), [], MONTH);
  const days = (minute: number, list: readonly number[]): number[] => list.map((day) => day * DAY + minute * MINUTE);

  test("that two begin together again and again give them away, also when they watch different subjects", () => {
    expect(found([days(100, [2, 8, 15]), days(400, [4]), days(700, [3, 5]), [...days(100, [2, 8, 15]), ...days(900, [20])].sort((a, b) => a - b)])).toEqual([
      { signals: ["w0", "w3"], how: "silences", text: "went silent together 3 times (3 and 4 times in all)", declaredIndependent: false },
    ]);
  });

  test("that strike every signal of the site are the recorder's, and tell nothing about two of them", () => {
    expect(found([0, 1, 2, 3].map(() => days(100, [2, 8, 15, 21])))).toEqual([]);
  });

  test("on the same nights, minutes apart, tell nothing", () => {
    expect(found([days(100, [2, 8, 15]), days(101, [2, 8, 15]), days(103, [2, 8, 15]), days(400, [4])])).toEqual([]);
  });
});
