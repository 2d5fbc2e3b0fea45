import fc from "fast-check";
import { expect, test } from "vitest";
import { eventCategories } from "../../../src/compare/signals/event-categories.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import { overlap } from "../../../src/timeline/overlap.js";
import { MINUTE, minutes } from "../../truth/episodes/small-site.js";

const visit = minutes(100, [[0, 0], [20, 1], [80, 0]]);

test("a short unknown gap inside a visit leaves it one visit", () => {
  const { reference, signal } = eventCategories(minutes(100, [[0, 0], [20, 1], [50, 2], [55, 1], [80, 0]]), visit, 10 * MINUTE);
  expect(reference.correct).toBe(1);
  expect(signal.correct).toBe(1);
});

test("a long one parts it in two, for nobody knows what was in between", () => {
  const { reference } = eventCategories(minutes(100, [[0, 0], [20, 1], [40, 2], [55, 1], [80, 0]]), visit, 10 * MINUTE);
  expect(reference.correct).toBe(2);
});

test("what the signal missed at the edge of a long gap is a deletion: no neighbour is known", () => {
  const { hours } = eventCategories(minutes(100, [[0, 0], [40, 2], [55, 1], [80, 0]]), visit, 10 * MINUTE);
  expect(hours.deletion).toBeCloseTo(20 / 60);
});

const states = fc.array(fc.constantFrom(0, 1, 2), { minLength: 1, maxLength: 40 });
test("segments cover the jointly known time, each kind on its own side of the table, and every event has a label", () => {
  fc.assert(
    fc.property(states, states, fc.nat(5), (a, b, joinMinutes) => {
      const length = 40 * MINUTE;
      const asTimeline = (each: readonly number[]) => canonicalTimeline(0, length, each.map((_, i) => i * MINUTE), each);
      const [signal, reference] = [asTimeline(a), asTimeline(b)];
      const { hours } = eventCategories(signal, reference, joinMinutes * MINUTE);
      const totals = overlap(signal, reference);
      const inHours = (index: number): number => totals[index]! / 3_600_000;
      expect(hours.trueOn).toBeCloseTo(inHours(4));
      expect(hours.trueOff).toBeCloseTo(inHours(0));
      expect(hours.insertion + hours.merge + hours.overfillStart + hours.overfillEnd).toBeCloseTo(inHours(3));
      expect(hours.deletion + hours.fragmentation + hours.underfillStart + hours.underfillEnd).toBeCloseTo(inHours(1));
    }),
    { numRuns: 300 },
  );
});

test("swapping truth and detection swaps the categories", () => {
  fc.assert(
    fc.property(states, states, (a, b) => {
      const asTimeline = (each: readonly number[]) => canonicalTimeline(0, 40 * MINUTE, each.map((_, i) => i * MINUTE), each);
      const one = eventCategories(asTimeline(a), asTimeline(b), MINUTE);
      const other = eventCategories(asTimeline(b), asTimeline(a), MINUTE);
      expect(other.hours.deletion).toBeCloseTo(one.hours.insertion);
      expect(other.hours.fragmentation).toBeCloseTo(one.hours.merge);
      expect(other.hours.overfillEnd).toBeCloseTo(one.hours.underfillEnd);
      expect(Object.values(other.reference)).toEqual([one.signal.correct, one.signal.inserted, one.signal.merging, one.signal.fragmenting, one.signal.fragmentingAndMerging]);
    }),
    { numRuns: 300 },
  );
});
