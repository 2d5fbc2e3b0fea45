import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rateUpperAtEveryLook, shareUpperAtEveryLook, trialsNeededAtEveryLook } from "../../src/statistics/every-look.js";
import { rateUpperBound } from "../../src/statistics/rate.js";
import { shareUpperBound } from "../../src/statistics/share.js";

const MONTHS = 120;

/** The exact chance that a Poisson process at rate `limit` a year meets `passes` at any of 120 monthly looks. */
function everPassed(limit: number, passes: (count: number, years: number) => boolean): number {
  const step = limit / 12;
  const most = Math.ceil(limit * 10 + 12 * Math.sqrt(limit * 10) + 30);
  const increments = Array.from({ length: most + 1 }, () => 0);
  increments[0] = Math.exp(-step);
  for (let k = 1; k <= most; k += 1) increments[k] = (increments[k - 1]! * step) / k;
  let alive = [1, ...Array.from({ length: most }, () => 0)];
  let passed = 0;
  for (let month = 1; month <= MONTHS; month += 1) {
    const next = Array.from({ length: most + 1 }, () => 0);
    alive.forEach((mass, k) => {
      if (mass < 1e-15) return;
      for (let more = 0; k + more <= most && (increments[more]! > 1e-15 || more < step); more += 1) next[k + more]! += mass * increments[more]!;
    });
    next.forEach((mass, k) => {
      if (mass > 0 && passes(k, month / 12)) {
        passed += mass;
        next[k] = 0;
      }
    });
    alive = next;
  }
  return passed;
}

/** Which counts pass at each look is asked once, since bounds rise with the count. */
function firstThatFails(bound: (count: number) => number, limit: number): number {
  let count = 0;
  while (bound(count) <= limit) count += 1;
  return count;
}

describe("a rate looked at every month", () => {
  // The figures were worked out elsewhere with the same mixture and are recomputed here exactly, by following the distribution of the count.
  test.each([
    [0.5, 0.0208],
    [2, 0.0345],
    [12, 0.0347],
    [40, 0.0217],
  ])("at the limit of %f a year is ever cleared within ten years with a chance of %f", (limit, expected) => {
    const fails = Array.from({ length: MONTHS }, (_, i) => firstThatFails((count) => rateUpperAtEveryLook(count, (i + 1) / 12, 0.95), limit));
    const chance = everPassed(limit, (count, years) => count < fails[Math.round(years * 12) - 1]!);
    expect(chance).toBeCloseTo(expected, 4);
    expect(chance).toBeLessThan(0.05);
  });

  test("a new test each month at a single look's bound clears such a rule far too often", () => {
    const fails = Array.from({ length: MONTHS }, (_, i) => firstThatFails((count) => rateUpperBound(count, (i + 1) / 12, 0.95), 2));
    expect(everPassed(2, (count, years) => count < fails[Math.round(years * 12) - 1]!)).toBeCloseTo(0.1651, 3);
  });

  test("without an event needs 3.8423 / limit, where one look needs 2.9957", () => {
    expect(rateUpperAtEveryLook(0, 1, 0.95)).toBeCloseTo(3.8423, 4);
    expect(rateUpperAtEveryLook(0, 7.6846, 0.95)).toBeCloseTo(0.5, 4);
    expect(rateUpperAtEveryLook(0, 0, 0.95)).toBe(Infinity);
  });

  test("is never told more narrowly than a single look would, and the bounds keep their order", () => {
    fc.assert(
      fc.property(fc.nat(80), fc.double({ min: 0.01, max: 20, noNaN: true }), fc.double({ min: 0.6, max: 0.999, noNaN: true }), (count, years, confidence) => {
        expect(rateUpperAtEveryLook(count, years, confidence)).toBeGreaterThan(rateUpperBound(count, years, confidence) * (1 - 1e-9));
        expect(rateUpperAtEveryLook(count + 0.5, years, confidence)).toBeGreaterThan(rateUpperAtEveryLook(count, years, confidence));
      }),
    );
  });
});

describe("a share looked at at every trial", () => {
  /** The exact chance that a share at the limit is ever cleared within `trials` looks, one a trial. */
  function everCleared(limit: number, trials: number): number {
    let alive = [1];
    let cleared = 0;
    for (let n = 1; n <= trials; n += 1) {
      const next = Array.from({ length: n + 1 }, () => 0);
      alive.forEach((mass, k) => {
        next[k]! += mass * (1 - limit);
        next[k + 1]! += mass * limit;
      });
      // Clearing takes few failures: only the smallest counts need asking.
      for (let k = 0; k <= n && trialsNeededAtEveryLook(k, n, limit, 0.95) === 0; k += 1) {
        cleared += next[k]!;
        next[k] = 0;
      }
      alive = next;
    }
    return cleared;
  }

  test("at the limit is ever cleared with a chance below one in twenty, though looked at after every trial", () => {
    for (const limit of [0.05, 0.1, 0.3]) expect(everCleared(limit, 400)).toBeLessThan(0.05);
  });

  test("bounds meet at the ends and keep their order", () => {
    expect(shareUpperAtEveryLook(0, 0, 0.95)).toBe(1);
    expect(shareUpperAtEveryLook(5, 5, 0.95)).toBe(1);
    fc.assert(
      fc.property(fc.nat(60), fc.nat(60), (failures, successes) => {
        const trials = failures + successes;
        fc.pre(trials > 0);
        expect(shareUpperAtEveryLook(failures, trials, 0.95)).toBeGreaterThanOrEqual(shareUpperBound(failures, trials, 0.95) - 1e-9);
        const needed = trialsNeededAtEveryLook(failures, trials, 0.1, 0.95)!;
        expect(shareUpperAtEveryLook(failures, trials + needed, 0.95)).toBeLessThanOrEqual(0.1 + 1e-9);
        if (needed > 0) expect(shareUpperAtEveryLook(failures, trials + needed - 1, 0.95)).toBeGreaterThan(0.1 - 1e-9);
      }),
    );
  });
});

describe("trials still needed", () => {
  test("are none where any share will do, and never enough where none may fail", () => {
    expect(trialsNeededAtEveryLook(3, 3, 1, 0.95)).toBe(0);
    expect(trialsNeededAtEveryLook(0, 100, 0, 0.95)).toBeNull();
  });

  test("are given up beyond a billion", () => {
    expect(trialsNeededAtEveryLook(0, 0, 1e-7, 0.95)).toBeGreaterThan(3.8e7);
    expect(trialsNeededAtEveryLook(0, 0, 1e-9, 0.95)).toBeNull();
  });

  test("refuse limits that are no share, and more failures than trials", () => {
    expect(() => trialsNeededAtEveryLook(0, 1, 1.5, 0.95)).toThrow(new RangeError("A limit lies in 0 to 1, not 1.5."));
    expect(() => trialsNeededAtEveryLook(0, 1, -0.5, 0.95)).toThrow(new RangeError("A limit lies in 0 to 1, not -0.5."));
    expect(() => shareUpperAtEveryLook(2, 1, 0.95)).toThrow(new RangeError("There cannot be 2 failures in 1 trials."));
    expect(() => shareUpperAtEveryLook(-1, 1, 0.95)).toThrow(new RangeError("The number of failures must be a finite number of 0 or more, not -1."));
    expect(() => shareUpperAtEveryLook(0, Infinity, 0.95)).toThrow(new RangeError("The number of trials must be a finite number of 0 or more, not Infinity."));
    expect(() => rateUpperAtEveryLook(-1, 1, 0.95)).toThrow(new RangeError("A count of events must be a finite number of 0 or more, not -1."));
    expect(() => rateUpperAtEveryLook(1, -1, 0.95)).toThrow(new RangeError("The exposure must be a finite number of 0 or more, not -1."));
    expect(() => rateUpperAtEveryLook(1, 1, 1)).toThrow(new RangeError("A confidence lies between 0 and 1, not 1."));
    expect(() => trialsNeededAtEveryLook(0, 1, 0.1, 0)).toThrow(new RangeError("A confidence lies between 0 and 1, not 0."));
  });
});

test("the best of ten variants at the limit is ever cleared with a chance below one in twenty when each is tested at a tenth of the doubt", () => {
  const confidence = 1 - 0.05 / 10;
  const fails = Array.from({ length: MONTHS }, (_, i) => firstThatFails((count) => rateUpperAtEveryLook(count, (i + 1) / 12, confidence), 12));
  const one = everPassed(12, (count, years) => count < fails[Math.round(years * 12) - 1]!);
  // Variants that err independently are the worst case: ten chances instead of one.
  expect(1 - (1 - one) ** 10).toBeLessThan(0.05);
  const untouched = Array.from({ length: MONTHS }, (_, i) => firstThatFails((count) => rateUpperAtEveryLook(count, (i + 1) / 12, 0.95), 12));
  expect(1 - (1 - everPassed(12, (count, years) => count < untouched[Math.round(years * 12) - 1]!)) ** 10).toBeGreaterThan(0.2);
});
