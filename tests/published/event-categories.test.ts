/**
 * Event categories of Ward, Lukowicz & Gellersen (2011), ACM TIST 2(1):6. Its text was not seen.
 * - Rules by which segments are labelled: (S), seen in the tests of a public implementation (phev8/ward-metrics).
 * - Both inputs are that implementation's own examples, not the paper's; results (R), from running it.
 */
import { expect, test } from "vitest";
import { eventCategories, eventLabels, eventRuns } from "../../src/compare/signals/event-categories.js";
import { timelineOf } from "../../src/timeline/make.js";
import type { Timeline } from "../../src/timeline/timeline.js";

const HOUR = 3_600_000;
type Spans = readonly (readonly [number, number])[];

/** The examples' units as hours, so that durations read as printed. */
function timeline(spans: Spans, start: number, end: number): Timeline {
  return timelineOf(start * HOUR, end * HOUR, [[start * HOUR, 0], ...spans.flatMap(([from, to]) => [[from * HOUR, 1], [to * HOUR, 0]] as const)]);
}

const A = {
  truth: timeline([[40, 60], [70, 75], [90, 100], [125, 135], [150, 157], [187, 220]], 2, 241),
  detection: timeline([[10, 20], [45, 52], [65, 80], [120, 180], [195, 200], [207, 213]], 2, 241),
};
const B = {
  truth: timeline([[40, 60], [73, 75], [90, 100], [125, 135], [150, 157], [190, 215], [220, 230], [235, 250]], 0, 260),
  detection: timeline([[10, 20], [45, 52], [70, 80], [120, 180], [195, 200], [207, 213], [221, 237], [239, 243], [245, 250]], 0, 260),
};

test("input A: durations by segment (R)", () => {
  const { hours } = eventCategories(A.detection, A.truth, 0);
  expect(hours).toEqual({ trueOn: 40, trueOff: 91, insertion: 10, deletion: 10, fragmentation: 7, merge: 15, overfillStart: 10, overfillEnd: 28, underfillStart: 13, underfillEnd: 15 });
  expect(Object.values(hours).reduce((sum, each) => sum + each, 0)).toBe(239);
});

test("input A: rates over the true and over the false time (R)", () => {
  const { hours } = eventCategories(A.detection, A.truth, 0);
  const on = hours.trueOn + hours.deletion + hours.fragmentation + hours.underfillStart + hours.underfillEnd;
  const off = hours.trueOff + hours.insertion + hours.merge + hours.overfillStart + hours.overfillEnd;
  const six = (numbers: readonly number[]): string[] => numbers.map((each) => each.toFixed(6));
  expect(six([hours.trueOn / on, hours.deletion / on, hours.fragmentation / on, hours.underfillStart / on, hours.underfillEnd / on])).toEqual(["0.470588", "0.117647", "0.082353", "0.152941", "0.176471"]);
  expect(six([1 - hours.trueOff / off, hours.insertion / off, hours.merge / off, hours.overfillStart / off, hours.overfillEnd / off])).toEqual(["0.409091", "0.064935", "0.097403", "0.064935", "0.181818"]);
});

test("input B: every event's label (R)", () => {
  const run = eventRuns(B.detection, B.truth, 0)[0]!;
  const truthLetters = { alone: "C", none: "D", fragmented: "F", merged: "M", both: "FM" };
  const detectionLetters = { alone: "C", none: "I'", fragmented: "F'", merged: "M'", both: "FM'" };
  expect(eventLabels(run, "truth").map((label) => truthLetters[label]).join(" ")).toBe("C C D M M F M FM");
  expect(eventLabels(run, "detection").map((label) => detectionLetters[label]).join(" ")).toBe("I' C C M' F' F' FM' F' F'");
});

test("input B: counts, precision and recall, by event and by duration (R)", () => {
  const { reference, signal, hours } = eventCategories(B.detection, B.truth, 0);
  expect(reference).toEqual({ correct: 2, deleted: 1, fragmented: 1, merged: 3, fragmentedAndMerged: 1 });
  expect(signal).toEqual({ correct: 2, inserted: 1, fragmenting: 4, merging: 1, fragmentingAndMerging: 1 });
  const events = (counts: Readonly<Record<string, number>>): number => Object.values(counts).reduce((sum, each) => sum + each, 0);
  expect([1 - signal.inserted / events(signal), 1 - reference.deleted / events(reference)]).toEqual([1 - 1 / 9, 1 - 1 / 8]);
  const said = hours.trueOn + hours.insertion + hours.merge + hours.overfillStart + hours.overfillEnd;
  const so = hours.trueOn + hours.deletion + hours.fragmentation + hours.underfillStart + hours.underfillEnd;
  expect([(1 - hours.insertion / said).toFixed(6), (1 - hours.deletion / so).toFixed(6)]).toEqual(["0.918699", "0.898990"]);
});
