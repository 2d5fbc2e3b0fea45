import { describe, expect, test } from "vitest";
import { findEpisodes } from "../../../src/truth/episodes/find.js";
import { measuredFaults } from "../../../src/compare/signals/measured-faults.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { findDisagreements } from "../../../src/compare/signals/disagreements.js";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import type { DiaryEntry } from "../../../src/intake/readings.js";
import type { SignalSpec } from "../../../src/site/site.js";
import { accountOf, accountsOf, MINUTE, minutes, signal, siteWith, subject, type MinuteSteps } from "../../truth/episodes/small-site.js";

const END = 20_000;
const period = { from: 0, to: END * MINUTE };
/** Forty visits of 200 minutes, every 480. */
const visits: MinuteSteps = [[0, 0], ...Array.from({ length: 40 }, (_, i): MinuteSteps => [[480 * i + 200, 1], [480 * i + 400, 0]]).flat()];
/** The same, stuck on for eight hours after the twentieth visit, as by a jammed hinge. */
const jammed = visits.filter(([minute]) => minute <= 480 * 19 + 200 || minute > 480 * 20 + 200);
/** And with fifteen minutes of nothing but noise after each of ten visits. */
const noisy: MinuteSteps = [...visits, ...Array.from({ length: 10 }, (_, i): MinuteSteps => [[480 * i + 430, 1], [480 * i + 445, 0]]).flat()].toSorted((a, b) => a[0] - b[0]);

/** A door seen by `said`; what every signal was charged with, and what is put down to pairs. */
function judged(said: Readonly<Record<string, MinuteSteps>>, { diary = [], shares = {} }: { readonly diary?: readonly DiaryEntry[]; readonly shares?: Readonly<Record<string, readonly string[]>> } = {}) {
  const signals: SignalSpec[] = Object.keys(said).map((id) => signal(id, "yard-door", shares[id] ?? []));
  const site = siteWith([subject("yard-door", "door")], signals);
  const accounts = accountsOf(...Object.entries(said).map(([id, steps]) => accountOf(id, minutes(END, steps))));
  const book = makeReferenceBook(site, accounts, diary, period);
  const scores = scoreSignals(site, accounts, book, period);
  const { phantoms, episodes } = findEpisodes(site, accounts, book, period);
  const disagreements = findDisagreements(site, accounts, book);
  return { scores, phantoms, episodes, pairs: disagreements[0]!.pairs, faults: measuredFaults(scores, phantoms, disagreements, site.confidence) };
}

describe("two signals that differ, and nobody else to ask", () => {
  const { scores, phantoms, pairs, faults } = judged({ rail: visits, hinge: jammed });

  test("neither is charged: no phantom, no miss, and the figures say why there are none", () => {
    expect(phantoms).toEqual([]);
    for (const score of scores) {
      expect(score.transitions).toMatchObject({ judged: 0, missed: 0, phantom: 0, fragmented: 0 });
      expect(score.eventCategories.hours).toMatchObject({ insertion: 0, deletion: 0, merge: 0, fragmentation: 0 });
      expect([score.missedShare, score.phantomRate].map(({ value, high, why }) => [value, high, why])).toEqual(Array(2).fill([null, null, "only one other sensor watches it, so nobody can tell which of the two is wrong"]));
    }
  });

  test("the pair has one disagreement, for as long as it lasted and per the time they were left alone", () => {
    expect(pairs).toHaveLength(1);
    expect(pairs[0]).toMatchObject({ signals: ["rail", "hinge"], count: 1, perMonth: { count: 1, unit: "per 30 days" } });
    expect(pairs[0]!.hours).toBeCloseTo(280 / 60);
    expect(pairs[0]!.jointDays).toBeCloseTo(END / 1440);
    expect(pairs[0]!.perMonth.value).toBeCloseTo(30 / (END / 1440));
  });

  test("how much they agree, and how late one is behind the other, blames nobody and is told", () => {
    expect(scores[0]!.agreement.value).toBeCloseTo(1 - 280 / END);
    expect(scores[0]!.lagOn.median.value).toBe(0);
  });

  test("how often either lies is not known, and at most as if every disagreement were its own", () => {
    const rail = faults.get("rail")!;
    expect(rail).toMatchObject({ perYear: null, missedShare: null });
    // Upper end of one in so many years, by the exact limit for a count of one: 5.5716.
    expect(rail.perYearHigh).toBeCloseTo(5.5716 / (END / (365.25 * 1440)), 0);
    expect(rail.meanMs).toBeCloseTo(280 * MINUTE);
    expect(faults.get("hinge")).toEqual(rail);
  });
});

describe("noise of one of two", () => {
  test("is counted once a stretch, and not at all as lag when both turn", () => {
    const late = visits.map(([minute, state]) => [minute + (minute === 0 ? 0 : 3), state] as const);
    expect(judged({ rail: noisy, hinge: visits }).pairs[0]!.count).toBe(10);
    expect(judged({ rail: late, hinge: visits }).pairs[0]!.count).toBe(0);
  });

  test("a visit seen late and short is lag, a bounce of seconds at a turn nothing", () => {
    const short: MinuteSteps = [[0, 0], [100, 1], [105, 0]];
    expect(judged({ rail: short, hinge: [[0, 0], [107, 1], [112, 0]] }).pairs[0]!.count).toBe(0);
    expect(judged({ rail: short, hinge: [[0, 0], [100, 1], [100.2, 0], [100.4, 1], [105, 0]] }).pairs[0]!.count).toBe(0);
  });

  test("time in which one of them is silent neither ends a disagreement nor counts", () => {
    const [pair] = judged({ rail: [[0, 0], [100, 1]], hinge: [[0, 0], [200, 2], [300, 0]] }).pairs;
    expect(pair).toMatchObject({ count: 1 });
    expect(pair!.hours).toBeCloseTo((END - 100 - 100) / 60);
    expect(pair!.jointDays).toBeCloseTo((END - 100) / 1440);
  });

  test("contacts on one board are one witness: a third signal that contradicts both is charged with nothing", () => {
    const { scores, pairs } = judged({ rail: visits, reed: visits, hinge: jammed }, { shares: { rail: ["board-a"], reed: ["board-a"] } });
    expect(scores.find(({ signal }) => signal === "hinge")!.transitions).toMatchObject({ missed: 0, phantom: 0 });
    expect(pairs.map(({ signals, count }) => [signals.join(), count])).toContainEqual(["rail,hinge", 1]);
  });
});

describe("with somebody else to ask", () => {
  test("a third independent witness settles it: the jammed hinge is charged, the others are not, and no pair is", () => {
    const { scores, pairs } = judged({ rail: visits, hinge: jammed, beam: visits });
    expect(scores.map(({ signal, transitions }) => [signal, transitions.phantom + transitions.missed])).toEqual([["rail", 0], ["hinge", 2], ["beam", 0]]);
    expect(pairs.reduce((sum, { count }) => sum + count, 0)).toBe(0);
  });

  test("so does the diary, for the time it speaks", () => {
    const from = 480 * 19 + 350;
    const diary: DiaryEntry[] = [{ subject: "yard-door", state: 0, from: (from + 55) * MINUTE, to: (from + 300) * MINUTE, file: "diary.csv", line: 2 }];
    const { scores, pairs, phantoms, faults } = judged({ rail: visits, hinge: jammed }, { diary });
    expect(scores[0]!.transitions).toMatchObject({ missed: 0, phantom: 0 });
    expect(phantoms.every(({ signal }) => signal === "hinge")).toBe(true);
    expect(pairs[0]!.count).toBe(0);
    expect(scores[0]!.judgedAgainst.jointHours.charged).toBeCloseTo(245 / 60);
    expect(pairs[0]!.jointDays).toBeCloseTo((END - 245) / 1440);
    expect(faults.get("rail")!.perYear).toBe(0);
    // One fault in four hours, and none in the days in which only the other could have told: the upper end is not below the rate.
    expect(faults.get("hinge")!.perYear).toBeCloseTo(1 / (245 / (365.25 * 1440)), 0);
    expect(faults.get("hinge")!.perYearHigh).toBe(faults.get("hinge")!.perYear);
  });
});

describe("measuredFaults", () => {
  test("time in which a signal was silent is no time in which it could have lied", () => {
    const half: MinuteSteps = [...noisy.filter(([minute]) => minute < END / 2), [END / 2, 2]];
    const { faults, scores } = judged({ rail: half, hinge: visits, beam: visits });
    expect(scores[0]!.transitions.phantom).toBe(10);
    expect(scores[0]!.judgedAgainst.hours.several).toBeGreaterThan(0.9 * (END / 60));
    expect(faults.get("rail")!.perYear).toBeCloseTo(10 / (END / 2 / (365.25 * 1440)), -1);
  });

  test("a signal that was never compared with anything has no rate and no upper end", () => {
    expect(judged({ rail: visits }).faults.get("rail")).toEqual({ perYear: null, perYearHigh: null, meanMs: null, missedShare: null, missedShareHigh: null });
  });
});
