import fc from "fast-check";
import { expect, test } from "vitest";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { OFF, ON, UNKNOWN } from "../../src/timeline/timeline.js";
import { anyTimeline, expectCanonical, RUNS } from "./brute-force.js";

test("on and off change places, unknown stays unknown", () => {
  expect(not(timelineOf(0, 10, [[2, ON], [4, UNKNOWN], [6, OFF]]))).toEqual(timelineOf(0, 10, [[2, OFF], [4, UNKNOWN], [6, ON]]));
});

test("twice is nothing, and the original is left alone", () => {
  fc.assert(
    fc.property(anyTimeline, (x) => {
      const before = structuredClone(x);
      expectCanonical(not(x));
      expect(not(not(x))).toEqual(x);
      expect(x).toEqual(before);
    }),
    RUNS,
  );
});
