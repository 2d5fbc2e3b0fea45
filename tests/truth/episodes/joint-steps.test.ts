import fc from "fast-check";
import { expect, test } from "vitest";
import { eachJointStep } from "../../../src/truth/episodes/joint-steps.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { minutes } from "./small-site.js";

test("joint steps cover the whole time without a gap and say what both timelines say", () => {
  const timeline = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 39 }), fc.integer({ min: 0, max: 2 })), { maxLength: 8 })
    .map((steps) => steps.sort((a, b) => a[0] - b[0]))
    .map((steps) => canonicalTimeline(0, 40, steps.map((step) => step[0]), steps.map((step) => step[1])));
  fc.assert(
    fc.property(timeline, timeline, (first, second) => {
      let reached = 0;
      eachJointStep(first, second, (from, to, a, b) => {
        expect(from).toBe(reached);
        for (let t = from; t < to; t += 1) expect([a, b]).toEqual([stateAt(first, t), stateAt(second, t)]);
        reached = to;
      });
      expect(reached).toBe(40);
    }),
  );
});

test("timelines of different extent are refused", () => {
  expect(() => eachJointStep(minutes(10, []), minutes(11, []), () => undefined)).toThrow(RangeError);
});
