import { describe, expect, it } from "vitest";
import type { Moment } from "../../../src/result/schema.js";
import { stretchesOf, timingLanes } from "../../../src/report/charts/timing-lanes.js";

const at = (minute: number): number => Date.UTC(2026, 9, 9, 13, minute);

describe("stretches of a lane", () => {
  it("cover the excerpt: unknown before the first step, the last state to the end", () => {
    expect(stretchesOf([[at(2), "off"], [at(5), "on"]], at(0), at(10))).toEqual([
      { from: at(0), to: at(2), state: "unknown" },
      { from: at(2), to: at(5), state: "off" },
      { from: at(5), to: at(10), state: "on" },
    ]);
  });

  it("take a step before the excerpt as its beginning, and drop one after it", () => {
    expect(stretchesOf([[at(-5), "on"], [at(20), "off"]], at(0), at(10))).toEqual([{ from: at(0), to: at(10), state: "on" }]);
    expect(stretchesOf([], at(0), at(10))).toEqual([{ from: at(0), to: at(10), state: "unknown" }]);
  });
});

describe("lanes", () => {
  const moment: Moment = {
    firing: "f",
    from: at(0),
    to: at(10),
    lanes: [
      { label: "tom", role: "reference", steps: [[at(0), "off"]] },
      { label: "phone-tom", role: "signal", steps: [[at(0), "off"], [at(3), "unknown"], [at(6), "on"]] },
      { label: "unlock", role: "rule", steps: [[at(0), "off"]] },
    ],
  };

  it("stand in the order signals, rule, reference, whatever the order they came in", () => {
    const { groups } = timingLanes(moment, "wide");
    expect(groups.map((group) => group.labels.map(({ label }) => label))).toEqual([["phone-tom"], ["unlock"], ["tom"]]);
    const heights = groups.map((group) => group.labels[0]?.y ?? NaN);
    expect([...heights].sort((a, b) => a - b)).toEqual(heights);
  });

  it("break the line where nothing is known and put a box there instead", () => {
    const { groups, xOf } = timingLanes(moment, "narrow");
    const [signals] = groups;
    expect(signals?.unknowns.map(({ x, x2 }) => [x, x2])).toEqual([[xOf(at(3)), xOf(at(6))]]);
    expect(new Set(signals?.points.map(({ run }) => run)).size).toBe(2);
    expect(signals?.points.some(({ x }) => x > xOf(at(3)) && x < xOf(at(6)))).toBe(false);
    expect(signals?.highs.map(({ x, x2 }) => [x, x2])).toEqual([[xOf(at(6)), xOf(at(10))]]);
  });
});
