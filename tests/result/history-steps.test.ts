import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { stepAt, stepsOf, stepsText } from "../../src/result/history-steps.js";
import { timelineOf } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";
import type { TruthState } from "../../src/timeline/timeline.js";

const START = Date.UTC(2026, 9, 1);
const steps = fc.array(fc.tuple(fc.integer({ min: 0, max: 9_999_999 }), fc.constantFrom<TruthState>(0, 1, 2)), { maxLength: 30 }).map((list) => list.map(([after, state]) => [START + after, state] as const).sort((a, b) => a[0] - b[0]));

describe("the steps of a timeline as a text", () => {
  it("are short", () => {
    const timeline = timelineOf(START, START + 9_000_000, [[START, 0], [START + 250_000, 1], [START + 4_000_000, 2]]);
    expect(stepsText(timeline)).toBe("f0 n5cwg u28dio");
  });

  it("say at every instant what the timeline says", () => {
    fc.assert(
      fc.property(steps, fc.integer({ min: 0, max: 9_999_999 }), (list, after) => {
        const timeline = timelineOf(START, START + 10_000_000, list);
        const read = stepsOf(stepsText(timeline), START);
        expect(read[stepAt(read, START + after)]?.state).toBe(stateAt(timeline, START + after));
      }),
    );
  });

  it.each(["", "x5", "n", "n-5", "n5  f3", "nZ"])("are not read from %j", (text) => {
    expect(() => stepsOf(text, START)).toThrow(/is no step/);
  });
});
