import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { Timeline, TruthState } from "../../../src/timeline/timeline.js";
import { accountOf, accountsOf, bookOf, brokenBook, MINUTE, minutes, referenceOf, signal, siteWith, subject } from "../../truth/episodes/small-site.js";
import type { SignalScore } from "../../../src/result/signals.js";

const site = siteWith([subject("bay-1", "bay")], [signal("overhead", "bay-1", ["board-a"]), signal("wall", "bay-1", ["board-a"])]);
const truth = minutes(2000, [[0, 0], [200, 1], [400, 0], [600, 1], [800, 0], [1000, 1], [1200, 0]]);
const period = { from: 0, to: 2000 * MINUTE };

function scored(overhead: Timeline, reference: Timeline = truth): SignalScore {
  const accounts = accountsOf(accountOf("overhead", overhead), accountOf("wall", reference));
  return scoreSignals(site, accounts, bookOf({ "bay-1": reference }), { from: reference.start, to: reference.end })[0]!;
}

describe("scoreSignals", () => {
  test("a signal that is right has nothing against it, and says how little that proves", () => {
    const score = scored(truth);
    expect(score.transitions).toEqual({ reference: 6, matched: 6, judged: 6, missed: 0, phantom: 0, fragmented: 0 });
    expect(score.agreement).toMatchObject({ value: 1, count: 7 });
    expect(score.missedShare).toMatchObject({ value: 0, low: 0, count: 3 });
    // 3 of 3 visits seen: 1 − 0.025^(1/3).
    expect(score.missedShare.high).toBeCloseTo(0.7076, 4);
    expect(score.lagOn.median).toMatchObject({ value: 0, count: 3, unit: "seconds" });
    expect(score.knownShare).toBe(1);
  });

  test("a missed visit is one missed visit and two missed turns", () => {
    const score = scored(minutes(2000, [[0, 0], [200, 1], [400, 0], [1000, 1], [1200, 0]]));
    expect(score.transitions).toEqual({ reference: 6, matched: 4, judged: 6, missed: 2, phantom: 0, fragmented: 0 });
    expect(score.missedShare).toMatchObject({ value: 1 / 3, count: 3 });
    expect(score.agreementGivenOn.value).toBeCloseTo(2 / 3);
    expect(score.agreementGivenOff.value).toBe(1);
  });

  test("a visit during which the signal was silent is no trial", () => {
    const score = scored(minutes(2000, [[0, 0], [200, 1], [400, 0], [500, 2], [900, 0], [1000, 1], [1200, 0]]));
    expect(score.transitions).toMatchObject({ matched: 4, missed: 0 });
    expect(score.missedShare).toMatchObject({ value: 0, count: 2 });
    expect(score.knownShare).toBe(0.8);
  });

  test("a false visit and a dropout are a phantom each, per thirty days of joint time; only the dropout breaks a visit", () => {
    const score = scored(minutes(2000, [[0, 0], [50, 1], [60, 0], [200, 1], [300, 0], [310, 1], [400, 0], [600, 1], [800, 0], [1000, 1], [1200, 0]]));
    expect(score.transitions).toEqual({ reference: 6, matched: 6, judged: 6, missed: 0, phantom: 2, fragmented: 1 });
    expect(score.phantomRate).toMatchObject({ count: 2, unit: "per 30 days" });
    expect(score.phantomRate.value).toBeCloseTo(2 / (2000 / 43_200));
  });

  test("lags are in seconds, positive when late, one for each direction", () => {
    const score = scored(minutes(2000, [[0, 0], [202, 1], [399, 0], [603, 1], [799, 0], [1001, 1], [1199, 0]]));
    expect(score.lagOn.median.value).toBe(120);
    expect(score.lagOff.median.value).toBe(-60);
    expect(score.lagOn.p95).toMatchObject({ value: 180, high: null });
  });

  test("silences, restarts and flaps are taken over from the account", () => {
    const account = accountOf("overhead", truth, {
      silences: [{ from: 0, to: 60 * MINUTE }, { from: 100 * MINUTE, to: 250 * MINUTE }],
      restarts: [{ from: 0, to: 1, cause: "hub" }],
      flapCount: 4,
      readingCount: 77,
    });
    const score = scoreSignals(site, accountsOf(account), bookOf({ "bay-1": truth }), period)[0]!;
    expect(score).toMatchObject({ silences: { count: 2, hours: 3.5, longestHours: 2.5 }, restarts: 1, flaps: 4, readings: 77 });
  });

  test("names who it was judged against, and never itself", () => {
    const asked: (readonly string[])[] = [];
    const book = (about: string, excluding: readonly string[]) => {
      asked.push(excluding);
      return referenceOf(about, truth, excluding, "one", ["overhead", "wall"].filter((id) => !excluding.includes(id)));
    };
    const scores = scoreSignals(site, accountsOf(accountOf("overhead", truth), accountOf("wall", truth)), book, period);
    expect(asked).toEqual([["overhead"], ["wall"]]);
    expect(scores[0]!.judgedAgainst).toEqual({ hours: { diary: 0, several: 0, one: 2000 / 60, none: 0 }, jointHours: { charged: 0, disputed: 2000 / 60 }, witnesses: ["wall"] });
    expect(scores[1]!.judgedAgainst.witnesses).toEqual(["overhead"]);
  });

  test("without anybody to judge by, every figure is null and says why", () => {
    const score = scored(truth, minutes(2000, []));
    for (const estimate of [score.agreement, score.agreementGivenOn, score.agreementGivenOff, score.missedShare, score.phantomRate, score.lagOn.median, score.lagOff.p95]) {
      expect(estimate.value).toBeNull();
      expect(estimate.why).not.toBeNull();
    }
    expect(score.judgedAgainst.hours.none).toBeCloseTo(2000 / 60);
  });

  test("a signal that nobody else can judge, or without an account, does not stop the others", () => {
    const two = siteWith([subject("bay-1", "bay"), subject("bay-2", "bay")], [signal("lost", "bay-2"), signal("unread", "bay-1"), signal("overhead", "bay-1")]);
    const scores = scoreSignals(two, accountsOf(accountOf("lost", truth), accountOf("overhead", truth)), bookOf({ "bay-1": truth, "bay-2": minutes(2000, []) }), period);
    expect(scores.map((one) => one.agreement.why)).toEqual(["the signal and what happened were never known at the same time", "no account of the signal was made", null]);
    expect(scores[0]).toMatchObject({ knownShare: 1, missedShare: { value: null } });
    expect(scores[2]!.agreement.value).toBe(1);
  });

  test("a fault of the program in the reference is passed on", () => {
    const one = siteWith([subject("bay-1", "bay")], [signal("overhead", "bay-1")]);
    expect(() => scoreSignals(one, accountsOf(accountOf("overhead", truth)), brokenBook, period)).toThrow(TypeError);
  });

  test("against itself as the only witness a signal agrees always; against any other the counts add up", () => {
    const step = fc.tuple(fc.integer({ min: 0, max: 1999 }), fc.constantFrom<TruthState>(0, 1, 2));
    const timeline = fc.array(step, { minLength: 1, maxLength: 25 }).map((steps) => timelineOf(0, 2000 * MINUTE, steps.sort((a, b) => a[0] - b[0]).map(([minute, state]) => [minute * MINUTE, state] as const)));
    fc.assert(
      fc.property(timeline, timeline, (one, other) => {
        const self = scored(one, one);
        if (self.agreement.value !== null) expect(self.agreement.value).toBe(1);
        // A gap may hide a turn from the signal that its reference is granted: the signal was blind then, and missed nothing.
        expect(self.transitions).toMatchObject({ missed: 0, phantom: 0, fragmented: 0 });
        if (self.knownShare === 1) expect(self.transitions.matched).toBe(self.transitions.reference);
        const score = scored(one, other);
        const { reference, matched, missed } = score.transitions;
        expect(matched + missed).toBeLessThanOrEqual(reference);
        expect(score.lagOn.median.count + score.lagOff.median.count).toBe(matched);
        expect(score.missedShare.count).toBeLessThanOrEqual(reference);
        for (const estimate of [score.agreement, score.agreementGivenOn, score.agreementGivenOff, score.missedShare, score.phantomRate]) {
          if (estimate.value === null) continue;
          expect(estimate.low).toBeLessThanOrEqual(estimate.value);
          expect(estimate.high).toBeGreaterThanOrEqual(estimate.value);
        }
      }),
      { numRuns: 200 },
    );
  });
});

test("a planted chance of missing a visit is recovered without bias, also by a signal that is often silent", () => {
  // 4000 visits of 20 minutes every 80; each is missed with chance 0.2, lags up to 5 minutes, and the signal is now and then silent.
  const random = mulberry32(20_261);
  const [visits, each] = [4000, 80];
  const reference: [number, TruthState][] = [[0, 0]];
  const said: [number, TruthState][] = [[0, 0]];
  for (let i = 0; i < visits; i += 1) {
    const at = 30 + i * each;
    reference.push([at, 1], [at + 20, 0]);
    if (random() >= 0.2) said.push([at + 5 * random(), 1], [at + 20 + 5 * random(), 0]);
  }
  const silent = said.flatMap(([minute, state]): [number, TruthState][] => [[minute, state]]);
  const gaps = Array.from({ length: 1500 }, () => random() * visits * each).sort((a, b) => a - b);
  const account = withGaps(silent, gaps.map((from) => [from, from + 15]), visits * each);
  const score = scored(account, minutes(visits * each, reference));
  expect(score.missedShare.count).toBeGreaterThan(2000);
  expect(score.missedShare.count).toBeLessThan(3900);
  expect(score.missedShare.low).toBeLessThan(0.2);
  expect(score.missedShare.high).toBeGreaterThan(0.2);
});

/** The same history with unknown stretches cut into it. */
function withGaps(steps: readonly [number, TruthState][], gaps: readonly (readonly [number, number])[], end: number): Timeline {
  const edges = [...steps.map(([minute]) => minute), ...gaps.flat()].sort((a, b) => a - b).filter((minute) => minute < end);
  let step = -1;
  let gap = 0;
  return minutes(
    end,
    edges.map((minute): [number, TruthState] => {
      while (step + 1 < steps.length && steps[step + 1]![0] <= minute) step += 1;
      while (gap < gaps.length && gaps[gap]![1] <= minute) gap += 1;
      const inGap = gap < gaps.length && gaps[gap]![0] <= minute;
      return [minute, inGap ? 2 : (steps[step]?.[1] ?? 2)];
    }),
  );
}

/** A small seeded generator (mulberry32, public domain): the draw is the same every time. */
function mulberry32(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}
