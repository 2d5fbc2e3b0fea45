import { expect, test } from "vitest";
import { flapTimes } from "../../../src/truth/signals/account.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { HOUR, MINUTE, SECOND } from "./small-site.js";

const times = (steps: readonly (readonly [number, TruthState])[]): number[] => flapTimes(timelineOf(0, HOUR, steps));
const count = (steps: readonly (readonly [number, TruthState])[]): number => times(steps).length;

test("a turn taken back within a minute is a flap, in either direction", () => {
  expect(count([[0, 0], [10 * MINUTE, 1], [10 * MINUTE + 30 * SECOND, 0]])).toBe(1);
  expect(count([[0, 1], [10 * MINUTE, 0], [11 * MINUTE, 1]])).toBe(1);
});

test("a flap is told by when it began", () => {
  expect(times([[0, 0], [10 * MINUTE, 1], [10 * MINUTE + 30 * SECOND, 0], [20 * MINUTE, 1], [20 * MINUTE + SECOND, 0]])).toEqual([10 * MINUTE, 20 * MINUTE]);
});

test("a turn that stands for longer is none", () => {
  expect(count([[0, 0], [10 * MINUTE, 1], [11 * MINUTE + 1, 0]])).toBe(0);
});

test("a chattering contact counts once for each turn it took back", () => {
  expect(count([[0, 0], [10, 1], [20, 0], [30, 1], [40, 0]])).toBe(3);
});

test("going unknown takes nothing back, and a last turn that the end cuts off was not taken back", () => {
  expect(count([[0, 0], [10, 2], [20, 0], [30, 1], [40, 2], [50, 0]])).toBe(0);
  expect(count([[0, 0], [HOUR - SECOND, 1]])).toBe(0);
});
