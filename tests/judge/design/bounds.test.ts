/** Check values: worked out by the authors of the method apart from this program, to the digits given. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { commonCauseBound, evenBound, singleLook, timeOfDayBound } from "../../../src/judge/design/bounds.js";
import { slidEstimate } from "../../../src/judge/design/slides.js";
import { togetherAtEveryLook } from "../../../src/statistics/coincidences.js";
import type { PartHistory } from "../../../src/result/design.js";
import { largestProduct } from "../../../src/statistics/joint-look.js";
import { history, part, stretch } from "./histories.js";

const vehicles = part("vehicles", 120, [stretch(0, "17:30", 120), stretch(3, "17:40", 120), stretch(6, "03:00", 120)]);
const people = part("people", 600, [stretch(1, "17:31", 600), stretch(2, "17:50", 600), stretch(4, "17:25", 600), stretch(5, "09:00", 600), stretch(8, "17:36", 600)]);
const quiet = part("vehicles", 120, []);

describe("ten days of two parts that both stir around half past five", () => {
  test("four pairs of different days overlap by the clock: 16.2333 a year are to be expected", () => {
    expect(slidEstimate(history(10, vehicles, people))).toBeCloseTo(16.2333, 4);
  });

  test("for one look at most 149.5809 a year", () => {
    expect(singleLook(history(10, vehicles, people), 0.95)?.bound).toBeCloseTo(149.5809, 3);
  });

  test("if the vehicles had never stirred, at most 97.3428", () => {
    expect(singleLook(history(10, quiet, people), 0.95)?.bound).toBeCloseTo(97.3428, 3);
  });

  test("a bound for every look is wider by what two counts allow together", () => {
    const one = singleLook(history(10, vehicles, people), 0.95)!;
    const limits = 8.7673 * 10.2619; // U(3; .025) and U(4.0138; .025) = 4.0138 × 2.5566.
    expect(timeOfDayBound(history(10, vehicles, people), 0.95)).toBeCloseTo((one.bound * largestProduct(one.counts, 0.95)) / limits, 1);
  });
});

test("parts that never stirred: 24 U(0)² times both windows", () => {
  const none = history(30, quiet, part("people", 600, []));
  const years = 30 / 365.25;
  expect(singleLook(none, 0.95)?.bound).toBeCloseTo((24 * 3.68888 ** 2 * (720 / 31_557_600)) / years ** 2, 2);
});

describe("faults that share no hour of the day", () => {
  const hours = 742.8 / 24 / 365.25;
  const even = { ...history(31, part("vehicles", 180, []), part("people", 600, Array.from({ length: 24 }, (_, day) => stretch(day, "12:00", 600)))), years: hours };

  test("none and 24 in 742.8 h, 780 s in all: at most 0.4790 a year at every look", () => {
    const pulses = [{ count: 0, longestYears: 180 / 31_557_600 }, { count: 24, longestYears: 600 / 31_557_600 }] as const;
    expect(togetherAtEveryLook(pulses, hours, 0.95)).toBeCloseTo(0.479, 4);
  });

  test("a part that never stirred may yet do so in a spell of four: four times as much", () => {
    expect(evenBound(even, 0.95)).toBeCloseTo(4 * 0.479, 3);
  });

  test("a part that stirred in spells counts as fewer that count for more", () => {
    const spells = (starts: readonly string[]) => part("vehicles", 180, [0, 10, 20].flatMap((day) => starts.map((clock) => stretch(day, clock, 60))));
    const oneByOne = part("vehicles", 180, Array.from({ length: 9 }, (_, i) => stretch(3 * i, "09:00", 60)));
    const bound = (vehicleStretches: PartHistory): number => evenBound({ ...even, parts: [vehicleStretches, even.parts[1]] }, 0.95);
    expect(bound(spells(["09:00", "10:00", "11:00"]))).toBeGreaterThan(1.3 * bound(oneByOne));
  });

  test("somebody at home half the time makes it twice as much: faults may come only then", () => {
    expect(evenBound({ ...even, homeShare: 0.5 }, 0.95)).toBeCloseTo(2 * evenBound(even, 0.95), 6);
    expect(evenBound({ ...even, homeShare: 0 }, 0.95)).toBe(Infinity);
  });
});

test("a common cause counts only false stretches, of the part that has fewer", () => {
  const rare = part("vehicles", 120, [stretch(0, "10:00", 60, true), stretch(1, "10:00", 60, true)]);
  const often = part("people", 600, [stretch(0, "12:00", 60), stretch(1, "12:00", 60), stretch(2, "12:00", 60)]);
  // No false one in a year of 365.25 days: 3.8423 at every look.
  const year = { ...history(365, rare, often), years: 1 };
  expect(commonCauseBound(year, 0.02, 0.95)).toBeCloseTo(0.02 * 3.8423, 5);
});

test("days on which nobody was at home count neither for nor against", () => {
  const with10 = history(10, vehicles, people);
  const with20 = history("wwwwwwwwww" + "x".repeat(10), vehicles, people);
  expect(timeOfDayBound(with20, 0.95)).toBe(timeOfDayBound(with10, 0.95));
  expect(slidEstimate(with20)).toBe(slidEstimate(with10));
});

test("more quiet days never raise a bound", () => {
  const stretches = fc.array(fc.record({ day: fc.integer({ min: 0, max: 29 }), hour: fc.integer({ min: 10, max: 23 }) }), { maxLength: 4 });
  const made = (places: readonly { day: number; hour: number }[]) => places.map(({ day, hour }) => stretch(day, `${hour}:15`, 60));
  fc.assert(
    fc.property(stretches, stretches, fc.integer({ min: 1, max: 60 }), (first, second, more) => {
      const [a, b] = [part("vehicles", 60, made(first)), part("people", 60, made(second))];
      const [short, long] = [history(30, a, b), history(30 + more, a, b)];
      for (const bound of [timeOfDayBound, evenBound]) expect(bound(long, 0.95)).toBeLessThanOrEqual(bound(short, 0.95) * (1 + 1e-9));
      expect(commonCauseBound(long, 0.1, 0.95)).toBeLessThanOrEqual(commonCauseBound(short, 0.1, 0.95) * (1 + 1e-9));
    }),
    { numRuns: 20 },
  );
});
