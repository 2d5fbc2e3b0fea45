import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { DiaryEntry } from "../../src/intake/readings.js";
import { makeReferenceBook } from "../../src/reference/book.js";
import type { Reference } from "../../src/reference/reference.js";
import { PRIOR_ERROR_SHARE } from "../../src/reference/vote.js";
import type { SignalAccount } from "../../src/signals/account.js";
import { canonicalTimeline, timelineOf } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";
import type { Timeline, TruthState } from "../../src/timeline/timeline.js";
import { signal, siteOf, steps } from "../signals/small-site.js";

const END = 60;
const period = { from: 0, to: END };

function accountsOf(timelines: Readonly<Record<string, Timeline>>): ReadonlyMap<string, SignalAccount> {
  return new Map(
    Object.entries(timelines).map(([id, account]) => [id, { signal: id, account, live: account, silences: [], restarts: [], readingCount: 1, flapCount: 0 }]),
  );
}

function line(...list: readonly (readonly [number, TruthState])[]): Timeline {
  return timelineOf(0, END, list);
}

function wrote(state: 0 | 1, from: number, to: number, subject = "yard-door"): DiaryEntry {
  return { subject, state, from, to, file: "diary.csv", line: 2 };
}

const site = siteOf([signal("rail"), signal("arm"), signal("lid", { subject: "shed" })]);

describe("a reference", () => {
  const accounts = accountsOf({ rail: line([0, 0], [20, 1], [50, 2]), arm: line([0, 0], [30, 1]), lid: line([0, 1]) });
  const book = makeReferenceBook(site, accounts, [wrote(0, 40, 45)], period);

  test("is what the subject's signals agree on, segment by segment, with who says so", () => {
    const { segments } = book("yard-door", []);
    expect(segments.map(({ from, to, state, basis, vouchers }) => [from, to, state, basis, vouchers.join("+")])).toEqual([
      [0, 20, 0, "several", "rail+arm"],
      [20, 30, 2, "none", ""],
      [30, 40, 1, "several", "rail+arm"],
      [40, 45, 0, "diary", ""],
      [45, 50, 1, "several", "rail+arm"],
      [50, 60, 1, "one", "arm"],
    ]);
    expect(segments[1]!.probability).toBe(0.5);
    expect(segments[3]!.probability).toBe(1);
    expect(segments[5]!.probability).toBeCloseTo(1 - PRIOR_ERROR_SHARE, 12);
  });

  test("has the same states as its timeline, in which equal neighbours are one", () => {
    expect(steps(book("yard-door", []).timeline)).toEqual([[0, 0], [20, 2], [30, 1], [40, 0], [45, 1]]);
  });

  test("without a signal is what the others say", () => {
    const { segments, excluding } = book("yard-door", ["rail"]);
    expect(excluding).toEqual(["rail"]);
    expect(segments.map(({ from, state, basis, vouchers }) => [from, state, basis, vouchers.join("+")])).toEqual([
      [0, 0, "one", "arm"],
      [30, 1, "one", "arm"],
      [40, 0, "diary", ""],
      [45, 1, "one", "arm"],
    ]);
  });

  test("without any signal is the diary, and unknown where nothing was written", () => {
    const { segments } = book("yard-door", ["arm", "rail"]);
    expect(segments.map(({ from, state, basis }) => [from, state, basis])).toEqual([[0, 2, "none"], [40, 0, "diary"], [45, 2, "none"]]);
  });

  test("is remembered by subject and excluded signals, in whatever order and however often named", () => {
    expect(book("yard-door", ["arm", "rail", "arm"])).toBe(book("yard-door", ["rail", "arm"]));
    expect(book("yard-door", ["rail"])).not.toBe(book("yard-door", []));
    expect(book("yard-door", [])).not.toBe(book("shed", []));
  });

  test("of a subject that the site does not have cannot be given", () => {
    expect(() => book("attic", [])).toThrow("No subject of the site is called attic.");
  });

  test("does without a signal that has no account", () => {
    const partial = makeReferenceBook(site, accountsOf({ arm: line([0, 1]) }), [], period);
    expect(partial("yard-door", []).segments).toMatchObject([{ from: 0, to: END, state: 1, basis: "one", vouchers: ["arm"] }]);
  });

  test("cannot be worked out from an account over another period", () => {
    const strange = makeReferenceBook(site, accountsOf({ rail: timelineOf(0, 30, []) }), [], period);
    expect(() => strange("yard-door", [])).toThrow("does not fit the period");
  });
});

const ids = ["s0", "s1", "s2", "s3"];
const anyTimeline = fc
  .array(fc.tuple(fc.integer({ min: 0, max: END - 1 }), fc.constantFrom<TruthState>(0, 1, 2)), { maxLength: 6 })
  .map((list) => line(...list.toSorted((a, b) => a[0] - b[0])));
const anyAccounts = fc.tuple(anyTimeline, anyTimeline, anyTimeline, anyTimeline).map((all) => Object.fromEntries(all.map((one, i) => [ids[i]!, one])));
const anyShares = fc.array(fc.subarray(["board", "hub"]), { minLength: 4, maxLength: 4 });
const anyDiary = fc.array(
  fc.record({ state: fc.constantFrom<0 | 1>(0, 1), from: fc.integer({ min: -5, max: END }), length: fc.integer({ min: 0, max: 15 }) }).map(({ state, from, length }) =>
    wrote(state, from, from + length),
  ),
  { maxLength: 2 },
);
const anyExcluding = fc.subarray(ids);

function askedOf(shares: readonly string[][], accounts: Readonly<Record<string, Timeline>>, diary: readonly DiaryEntry[], excluding: readonly string[]): Reference {
  return makeReferenceBook(siteOf(ids.map((id, i) => signal(id, { shares: shares[i]! }))), accountsOf(accounts), diary, period)("yard-door", excluding);
}

/** One instant, worked out on its own by the words of the definition, in whole twelfths of a voice (1, 1/2, 1/3, 1/4). */
function twinAt(at: number, shares: readonly string[][], accounts: Readonly<Record<string, Timeline>>, diary: readonly DiaryEntry[], excluding: readonly string[]) {
  const written = new Set(diary.filter(({ from, to }) => from <= at && at < to).map(({ state }) => state));
  if (written.size === 1) return { state: [...written][0]!, basis: "diary", vouchers: [], probability: 1 };
  const voices = ids
    .map((id, i) => ({ id, shares: shares[i]!, state: stateAt(accounts[id]!, at) }))
    .filter(({ id, state }) => !excluding.includes(id) && state !== 2);
  const twelfths = voices.map((one) => {
    const crowd = ["board", "hub"].map((cause) => (one.shares.includes(cause) ? voices.filter((other) => other.shares.includes(cause)).length : 1));
    return (one.state === 1 ? 12 : -12) / Math.max(...crowd);
  });
  const margin = twelfths.reduce((sum, one) => sum + one, 0);
  if (margin === 0) return { state: 2, basis: "none", vouchers: [], probability: 0.5 };
  const winners = voices.filter(({ state }) => state === (margin > 0 ? 1 : 0));
  const disjoint = (a: readonly string[], b: readonly string[]): boolean => new Set([...a, ...b]).size === a.length + b.length;
  // Each voice's surroundings: itself and those that have a cause in common with it.
  const carriers = winners.filter((one) => {
    const around = voices.filter((other) => other.id === one.id || !disjoint(one.shares, other.shares));
    return around.reduce((sum, other) => sum + (other.state === one.state ? 1 : -1), 0) > 0;
  });
  const independent = carriers.some((a) => carriers.some((b) => a !== b && disjoint(a.shares, b.shares)));
  const odds = ((1 - PRIOR_ERROR_SHARE) / PRIOR_ERROR_SHARE) ** (Math.abs(margin) / 12);
  return { state: margin > 0 ? 1 : 0, basis: independent ? "several" : "one", vouchers: winners.map(({ id }) => id), probability: odds / (1 + odds) };
}

describe("a reference, by property", () => {
  test("is at every instant what a vote at that instant says", () => {
    fc.assert(
      fc.property(anyShares, anyAccounts, anyDiary, anyExcluding, (shares, accounts, diary, excluding) => {
        const { segments, timeline } = askedOf(shares, accounts, diary, excluding);
        for (let at = 0; at < END; at += 1) {
          const segment = segments.find(({ from, to }) => from <= at && at < to)!;
          const { probability, ...twin } = twinAt(at, shares, accounts, diary, excluding);
          expect({ state: segment.state, basis: segment.basis, vouchers: segment.vouchers }).toEqual(twin);
          expect(segment.probability).toBeCloseTo(probability, 12);
          expect(stateAt(timeline, at)).toBe(segment.state);
        }
      }),
      { numRuns: 150 },
    );
  });

  test("never changes when a signal left out of it changes, be it to nothing at all", () => {
    fc.assert(
      fc.property(anyShares, anyAccounts, anyDiary, fc.subarray(ids, { minLength: 1 }), anyAccounts, (shares, accounts, diary, excluding, others) => {
        const before = askedOf(shares, accounts, diary, excluding);
        const changed = { ...accounts, ...Object.fromEntries(excluding.map((id) => [id, others[id]!])) };
        expect(askedOf(shares, changed, diary, excluding)).toEqual(before);
        const gone = Object.fromEntries(Object.entries(accounts).filter(([id]) => !excluding.includes(id)));
        expect(askedOf(shares, gone, diary, excluding)).toEqual(before);
      }),
      { numRuns: 150 },
    );
  });

  test("has segments that follow one another over the whole period, no two neighbours alike, and a canonical timeline", () => {
    fc.assert(
      fc.property(anyShares, anyAccounts, anyDiary, anyExcluding, (shares, accounts, diary, excluding) => {
        const { segments, timeline } = askedOf(shares, accounts, diary, excluding);
        expect(segments[0]!.from).toBe(0);
        expect(segments.at(-1)!.to).toBe(END);
        for (let i = 1; i < segments.length; i += 1) {
          const [before, after] = [segments[i - 1]!, segments[i]!];
          expect(after.from).toBe(before.to);
          expect({ ...after, from: 0, to: 0 }).not.toEqual({ ...before, from: 0, to: 0 });
        }
        expect(timeline).toEqual(canonicalTimeline(0, END, timeline.times, timeline.states));
      }),
      { numRuns: 150 },
    );
  });
});
