import fc from "fast-check";
import { expect, test } from "vitest";
import { walkTogether } from "../../src/timeline/walk-together.js";
import { canonicalTimeline } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { minutes } from "../truth/episodes/small-site.js";

test("the steps cover the whole time without a gap and tell what every timeline says", () => {
  const timeline = fc
    .array(fc.tuple(fc.integer({ min: 0, max: 39 }), fc.integer({ min: 0, max: 2 })), { maxLength: 8 })
    .map((steps) => steps.sort((a, b) => a[0] - b[0]))
    .map((steps) => canonicalTimeline(0, 40, steps.map((step) => step[0]), steps.map((step) => step[1])));
  fc.assert(
    fc.property(timeline, timeline, timeline, (first, second, third) => {
      let reached = 0;
      const ends = new Set([...first.times, ...second.times, ...third.times]);
      let steps = 0;
      walkTogether([first, second, third], (from, to, [a, b, c]) => {
        expect(from).toBe(reached);
        for (let t = from; t < to; t += 1) expect([a, b, c]).toEqual([stateAt(first, t), stateAt(second, t), stateAt(third, t)]);
        reached = to;
        steps += 1;
      });
      expect(reached).toBe(40);
      expect(steps).toBe(ends.size);
    }),
  );
});

test("timelines of different extent are refused", () => {
  expect(() => walkTogether([minutes(10, []), minutes(11, [])], () => undefined)).toThrow(RangeError);
  expect(() => walkTogether([], () => undefined)).toThrow(RangeError);
});
