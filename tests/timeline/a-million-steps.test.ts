import { expect, test } from "vitest";
import { all } from "../../src/timeline/all.js";
import { any } from "../../src/timeline/any.js";
import { atLeast } from "../../src/timeline/at-least.js";
import { collapse } from "../../src/timeline/collapse.js";
import { durations } from "../../src/timeline/durations.js";
import { held } from "../../src/timeline/held.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { overlap } from "../../src/timeline/overlap.js";
import { recently } from "../../src/timeline/recently.js";
import { restrict } from "../../src/timeline/restrict.js";
import { rises } from "../../src/timeline/rises.js";
import { stretches } from "../../src/timeline/stretches.js";
import { ON, type Timeline } from "../../src/timeline/timeline.js";
import { turned, turnedWithin } from "../../src/timeline/turned.js";

// Work that grew with the square of the steps would not come back from a million of them. No timing is asserted.
const STEPS = 1_000_000;
const STEP_MS = 10;

/** off, on, unknown, off, on, unknown… each for 10 ms, begun at `shift` of the cycle. */
function cycling(shift: number): Timeline {
  return canonicalTimeline(
    0,
    STEPS * STEP_MS,
    Float64Array.from({ length: STEPS }, (_, i) => i * STEP_MS),
    Uint8Array.from({ length: STEPS }, (_, i) => (i + shift) % 3),
  );
}

const a = cycling(0);
const b = cycling(1);
const c = cycling(2);

test("Kleene's operators over three timelines of a million steps each", () => {
  // At every instant one is off, one on, one unknown.
  expect([...all([a, b, c]).states]).toEqual([0]);
  expect([...any([a, b, c]).states]).toEqual([1]);
  expect([...atLeast(2, [a, b, c]).states]).toEqual([2]);
  expect(collapse(not(a)).times.length).toBeGreaterThan(STEPS / 2);
});

test("windows far longer than a step do not make each step look back over all of them", () => {
  expect([...held(a, 1e6).states]).toEqual([0]);
  expect(recently(a, 1e6).times.length).toBe(2);
  expect(held(a, 3).times.length).toBe(STEPS);
});

test("turns with a barrier for every gap", () => {
  const gaps = stretches(a, 2);
  expect(turned(a, 0, { bridgeMs: STEP_MS, barriers: [] }).length).toBe(gaps.length);
  expect(turned(a, 0, { bridgeMs: STEP_MS, barriers: gaps.toReversed() })).toEqual([]);
  expect(turnedWithin(a, ON, 5, { bridgeMs: 0, barriers: gaps }).times.length).toBeGreaterThan(STEPS / 2);
});

test("sums, rises and windows", () => {
  expect(durations(a).onMs).toBe(333_333 * STEP_MS);
  expect(overlap(a, b)[0 * 3 + 1]).toBe(durations(a).offMs);
  expect(rises(a).length).toBe(333_333);
  expect(restrict(a, 5, STEPS * STEP_MS - 5).times.length).toBe(STEPS);
});
