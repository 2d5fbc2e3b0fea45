import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { smallestChange, type Needed } from "../../../src/judge/culprit/smallest-change.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import type { TruthState } from "../../../src/timeline/timeline.js";

/** A history so short that every millisecond can be looked at. */
const END = 40;

const steps = fc.array(fc.tuple(fc.integer({ min: 0, max: END - 1 }), fc.constantFrom<TruthState>(0, 1, 2)), { maxLength: 6 });
const condition = fc.tuple(steps, fc.constantFrom<0 | 1>(0, 1), fc.integer({ min: 1, max: END }));
const conditions = fc
  .array(condition, { minLength: 1, maxLength: 4 })
  .map((list) => list.map(([each, holdsIn, reachMs], i): Needed => ({ key: `c${i}`, holdsIn, reachMs, timeline: timelineOf(0, END, each.toSorted((a, b) => a[0] - b[0])) })));
const window = fc.tuple(fc.integer({ min: 0, max: END - 1 }), fc.integer({ min: 0, max: END - 1 })).map(([a, b]) => ({ from: Math.min(a, b), to: Math.max(a, b) }));

const holds = ({ timeline, holdsIn }: Needed, at: number): boolean => at >= 0 && at < END && stateAt(timeline, at) === holdsIn;

/** How many failed, and by how much in all: looked at millisecond by millisecond. */
function bruteForce(needed: readonly Needed[], { from, to }: { from: number; to: number }, reach: number): readonly [number, number] {
  let best: readonly [number, number] = [Infinity, Infinity];
  for (let at = from; at <= to; at += 1) {
    const failing = needed.filter((one) => !holds(one, at));
    const sizes = failing.map((one) => {
      for (let away = 1; away <= END; away += 1) if ((away <= one.reachMs && holds(one, at - away)) || (away <= reach && holds(one, at + away))) return away;
      return Infinity;
    });
    const size = sizes.reduce((sum, each) => sum + each, 0);
    if (failing.length < best[0] || (failing.length === best[0] && size < best[1])) best = [failing.length, size];
  }
  return best;
}

describe("the fewest and smallest changes", () => {
  it("are those that looking at every millisecond finds", () => {
    fc.assert(
      fc.property(conditions, window, fc.integer({ min: 1, max: END }), (needed, within, reach) => {
        const change = smallestChange(needed, within, reach);
        expect([change?.failing.length, change?.sizeMs]).toEqual([...bruteForce(needed, within, reach)]);
      }),
      { numRuns: 500 },
    );
  });

  it("do not depend on the order of the conditions", () => {
    fc.assert(
      fc.property(conditions, window, fc.array(fc.nat(), { minLength: 4, maxLength: 4 }), (needed, within, keys) => {
        const shuffled = needed.map((one, i) => ({ one, key: keys[i] ?? 0 })).sort((a, b) => a.key - b.key).map(({ one }) => one);
        expect(smallestChange(shuffled, within, END)).toEqual(smallestChange(needed, within, END));
      }),
    );
  });
});
