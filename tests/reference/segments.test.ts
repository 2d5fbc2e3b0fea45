import { expect, test } from "vitest";
import { eachStretch } from "../../src/reference/segments.js";
import { timelineOf } from "../../src/timeline/make.js";
import type { Timeline } from "../../src/timeline/timeline.js";

const period = { from: 0, to: 100 };

function stretchesOf(timelines: readonly Timeline[]): [number, number, string][] {
  const seen: [number, number, string][] = [];
  eachStretch(period, timelines, (from, to, states) => seen.push([from, to, states.join("")]));
  return seen;
}

test("each stretch lies between neighbouring changes of any of the timelines", () => {
  const [one, other] = [timelineOf(0, 100, [[0, 1], [30, 0], [60, 1]]), timelineOf(0, 100, [[20, 1], [60, 0]])];
  expect(stretchesOf([one, other])).toEqual([[0, 20, "12"], [20, 30, "11"], [30, 60, "01"], [60, 100, "10"]]);
});

test("without timelines the period is one stretch", () => {
  expect(stretchesOf([])).toEqual([[0, 100, ""]]);
});

test("a timeline over another period does not fit", () => {
  expect(() => stretchesOf([timelineOf(0, 90, [])])).toThrow("A timeline over [0, 90) does not fit the period [0, 100).");
});
