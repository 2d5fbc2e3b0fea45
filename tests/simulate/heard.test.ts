import fc from "fast-check";
import { expect, test } from "vitest";
import { heardOf, heardStretches, overridden, stateHeard, type Step } from "../../src/simulate/heard.js";
import { parseScenario, type Sensor } from "../../src/simulate/scenario.js";
import { timelineOf } from "../../src/timeline/make.js";
import { OFF, ON } from "../../src/timeline/timeline.js";
import { yearScenarioText } from "./year-scenario.js";

const none = parseScenario(yearScenarioText(), "s.yaml").sensors["contact-bouncing"]!.faults;
const faults = (parts: Partial<Sensor["faults"]>): Sensor["faults"] => ({ ...none, ...parts });
const MINUTE = 60_000;
const visit = timelineOf(0, 100 * MINUTE, [[0, OFF], [10 * MINUTE, ON], [20 * MINUTE, OFF], [40 * MINUTE, ON], [80 * MINUTE, OFF]]);

test("without faults the truth is heard as it is", () => {
  const { steps, missedOn, missedOff, lagsOnMs } = heardOf(visit, none, 1, "s");
  expect(steps).toEqual([{ at: 0, state: 0 }, { at: 600_000, state: 1 }, { at: 1_200_000, state: 0 }, { at: 2_400_000, state: 1 }, { at: 4_800_000, state: 0 }]);
  expect({ missedOn, missedOff, lagsOnMs }).toEqual({ missedOn: [], missedOff: [], lagsOnMs: [0, 0] });
});

test("each transition comes later by its own lag", () => {
  const { steps, lagsOnMs, lagsOffMs } = heardOf(visit, faults({ lag: { on: { median: 30_000, spread: 0 }, off: { median: 90_000, spread: 0 } } }), 1, "s");
  expect(steps.slice(1, 3)).toEqual([{ at: 630_000, state: 1 }, { at: 1_290_000, state: 0 }]);
  expect([lagsOnMs, lagsOffMs]).toEqual([[30_000, 30_000], [90_000, 90_000]]);
});

test("a visit shorter than its lag is swallowed, and counts as missed", () => {
  const { steps, missedOn } = heardOf(visit, faults({ lag: { on: { median: 15 * MINUTE, spread: 0 } } }), 1, "s");
  expect(missedOn).toEqual([{ from: 10 * MINUTE, to: 20 * MINUTE }]);
  expect(steps).toEqual([{ at: 0, state: 0 }, { at: 55 * MINUTE, state: 1 }, { at: 80 * MINUTE, state: 0 }]);
});

test("missed visits leave no step at all", () => {
  const { steps, missedOn, missedOff } = heardOf(visit, faults({ miss: 1 }), 1, "s");
  expect(steps).toEqual([{ at: 0, state: 0 }]);
  expect([missedOn.length, missedOff.length]).toEqual([2, 0]);
});

const stepList = fc.uniqueArray(fc.integer({ min: 1, max: 59 }), { maxLength: 10 }).chain((times) =>
  fc.constantFrom<0 | 1>(0, 1).map((first): Step[] => [0, ...times.sort((a, b) => a - b)].map((at, i) => ({ at, state: (i % 2 === 0 ? first : 1 - first) as 0 | 1 }))),
);
const override = fc.record({ from: fc.integer({ min: 0, max: 58 }), length: fc.integer({ min: 1, max: 20 }), state: fc.constantFrom<0 | 1 | null>(0, 1, null) }).map(({ from, length, state }) => ({ from, to: from + length, state }));

test("overrides agree with a grid on which each is painted in turn", () => {
  fc.assert(
    fc.property(stepList, fc.array(override, { maxLength: 4 }), (steps, overrides) => {
      const grid = Array.from({ length: 80 }, (_, at) => steps.filter((step) => step.at <= at).at(-1)!.state);
      for (const { from, to, state } of overrides) grid.fill(state ?? grid[from]!, from, to);
      const result = overridden(steps, overrides);
      expect(grid.map((_, at) => stateHeard(result, at))).toEqual(grid);
      expect(result.every(({ at, state }, i) => i === 0 || (at > result[i - 1]!.at && state !== result[i - 1]!.state))).toBe(true);
      const on = heardStretches(result, 80, 1);
      expect(grid.map((_, at) => on.some(({ from, to }) => from <= at && at < to))).toEqual(grid.map((state) => state === 1));
    }),
  );
});
