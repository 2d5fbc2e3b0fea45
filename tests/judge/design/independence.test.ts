import { sum } from "d3-array";
import { describe, expect, test } from "vitest";
import { sharedDaysChance } from "../../../src/judge/design/independence.js";
import { generator } from "../../../src/statistics/random-order.js";
import { history, part, stretch } from "./histories.js";

/** A part with so many stretches on each day, at noon and after. */
function onDays(name: "vehicles" | "people", counts: readonly number[]) {
  return part(name, 60, counts.flatMap((count, day) => Array.from({ length: count }, (_, i) => stretch(day, `12:${String(i).padStart(2, "0")}`, 60))));
}

const chance = (a: readonly number[], b: readonly number[], days: number | string = a.length): number => sharedDaysChance(history(days, onDays("vehicles", a), onDays("people", b)));

/** 84 days of which every seventh is bad, and others. */
const every = (step: number, from = 0): number[] => Array.from({ length: 84 }, (_, day) => (day % step === from ? 3 : 0));

describe("parts with the same bad days", () => {
  test("are found: chance does that less than once in a hundred", () => {
    expect(chance(every(7), every(7))).toBeLessThan(0.01);
  });

  test("are found too where only half of the bad days are shared", () => {
    expect(chance(every(7), every(14))).toBeLessThan(0.01);
  });
});

describe("parts that have nothing to do with each other", () => {
  test("do not seem to: bad days drawn by lot are called shared about as often as the level says", () => {
    const random = generator(7);
    const drawn = (): number[] => Array.from({ length: 84 }, () => (random() < 0.15 ? 2 : 0));
    const called = Array.from({ length: 200 }, () => chance(drawn(), drawn())).filter((one) => one <= 0.05).length;
    expect(called).toBeGreaterThan(1);
    expect(called).toBeLessThan(22);
  });

  test("that never share a day look less alike than chance", () => {
    expect(chance(every(7), every(7, 1))).toBe(1);
  });

  test("of which one never stirred can share nothing", () => {
    expect(chance(every(7), every(7).map(() => 0))).toBe(1);
  });
});

test("weekends are only compared with weekends: bad weekends of both are no shared bad days", () => {
  const days = "wwwwwee".repeat(12);
  const weekends = Array.from(days, (type) => (type === "e" ? 1 : 0));
  expect(chance(weekends, weekends, days)).toBe(1);
  expect(chance(weekends, weekends)).toBeLessThan(0.01);
});

test("days on which nobody was at home are left out", () => {
  const days = Array.from({ length: 84 }, (_, day) => (day % 7 === 0 ? "x" : "w")).join("");
  expect(chance(every(7), every(7), days)).toBe(1);
});

/** The chance by every order of the days there is. */
function byEveryOrder(a: readonly number[], b: readonly number[]): number {
  const together = (order: readonly number[]): number => sum(a, (count, day) => count * (order[day] ?? 0));
  const orders = everyOrder(b);
  return orders.filter((order) => together(order) >= together(b)).length / orders.length;
}

function everyOrder(values: readonly number[]): number[][] {
  return values.length < 2 ? [[...values]] : values.flatMap((one, i) => everyOrder(values.toSpliced(i, 1)).map((rest) => [one, ...rest]));
}

test.each([
  [[3, 0], [2, 0]],
  [[3, 1], [1, 2]],
  [[2, 0, 1], [1, 0, 0]],
  [[2, 0, 1, 0], [1, 0, 2, 0]],
])("is what every order of the days gives, for %j and %j", (a, b) => {
  // 999 random orders are within four standard deviations, and one more counts as seen.
  const exact = byEveryOrder(a, b);
  expect(Math.abs(chance(a, b) - exact)).toBeLessThan(4 * Math.sqrt((exact * (1 - exact)) / 999) + 0.001);
});
