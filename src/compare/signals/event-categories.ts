import { sum } from "d3-array";
import { HOUR_MS } from "../../ground/units.js";
import { ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { walkTogether } from "../../timeline/walk-together.js";
import type { EventCategories } from "../../result/witnesses.js";

/** How one "on" of the truth was detected, or what one detected "on" was. */
type EventLabel = "alone" | "none" | "fragmented" | "merged" | "both";

/**
 * The event categories of Ward, Lukowicz & Gellersen (2011), ACM TIST 2(1):6, whose text we did not see: segments as a
 * public implementation of it labels them; event labels as its results show them, checked on both of its worked inputs.
 * An event with over- or underfill is still correct; the hours show how much there was.
 */
export function eventCategories(signal: Timeline, reference: Timeline, joinMs: number): EventCategories {
  const runs = eventRuns(signal, reference, joinMs);
  const hours = (kind: SegmentKind): number => sum(runs.flat(), (segment) => (segment.kind === kind ? segment.durationMs : 0)) / HOUR_MS;
  const visits = countLabels(runs.flatMap((run) => eventLabels(run, "truth")));
  const said = countLabels(runs.flatMap((run) => eventLabels(run, "detection")));
  return {
    hours: {
      trueOn: hours("true-on"),
      trueOff: hours("true-off"),
      insertion: hours("insertion"),
      deletion: hours("deletion"),
      fragmentation: hours("fragmentation"),
      merge: hours("merge"),
      overfillStart: hours("overfill-start"),
      overfillEnd: hours("overfill-end"),
      underfillStart: hours("underfill-start"),
      underfillEnd: hours("underfill-end"),
    },
    reference: {
      correct: visits.alone,
      deleted: visits.none,
      fragmented: visits.fragmented,
      merged: visits.merged,
      fragmentedAndMerged: visits.both,
    },
    signal: {
      correct: said.alone,
      inserted: said.none,
      fragmenting: said.fragmented,
      merging: said.merged,
      fragmentingAndMerging: said.both,
    },
  };
}

/** For a signal that could not be judged. */
export const NO_EVENTS: EventCategories = {
  hours: {
    trueOn: 0,
    trueOff: 0,
    insertion: 0,
    deletion: 0,
    fragmentation: 0,
    merge: 0,
    overfillStart: 0,
    overfillEnd: 0,
    underfillStart: 0,
    underfillEnd: 0,
  },
  reference: { correct: 0, deleted: 0, fragmented: 0, merged: 0, fragmentedAndMerged: 0 },
  signal: { correct: 0, inserted: 0, fragmenting: 0, merging: 0, fragmentingAndMerging: 0 },
};

/**
 * One label an event of a run, in order. An event is a longest stretch in which `side` is on. It is without counterpart
 * when no segment of it is a true positive. What splits (fragmentation) lies inside a true event and beside a detected
 * one, what joins (merge) beside a true event and inside a detected one: so both kinds are looked for inside and next
 * to the event. Public so that it is checked against what a public implementation prints, event by event.
 */
export function eventLabels(run: readonly EventSegment[], side: "truth" | "detection"): EventLabel[] {
  const labels: EventLabel[] = [];
  for (let i = 0; i < run.length; i += 1) {
    if (run[i]?.[side] !== true) continue;
    const first = i;
    while (run[i + 1]?.[side] === true) i += 1;
    const near = run.slice(Math.max(0, first - 1), i + 2);
    const has = (kind: SegmentKind): boolean => near.some((segment) => segment.kind === kind);
    const found = run.slice(first, i + 1).some((segment) => segment.kind === "true-on");
    const [fragmented, merged] = [has("fragmentation"), has("merge")];
    labels.push(!found ? "none" : fragmented && merged ? "both" : fragmented ? "fragmented" : merged ? "merged" : "alone");
  }
  return labels;
}

function countLabels(labels: readonly EventLabel[]): Record<EventLabel, number> {
  const counts: Record<EventLabel, number> = { alone: 0, none: 0, fragmented: 0, merged: 0, both: 0 };
  for (const label of labels) counts[label] += 1;
  return counts;
}

/** What a stretch of jointly known time is, by its truth, its detection and its neighbours. */
type SegmentKind =
  | "true-on"
  | "true-off"
  | "insertion"
  | "merge"
  | "overfill-start"
  | "overfill-end"
  | "deletion"
  | "fragmentation"
  | "underfill-start"
  | "underfill-end";

/** A longest stretch over which neither the truth nor the detection changes. */
export interface EventSegment {
  readonly truth: boolean;
  readonly detection: boolean;
  /** Milliseconds of jointly known time in it. */
  readonly durationMs: number;
  readonly kind: SegmentKind;
}

/** A segment whose neighbours are not known yet. */
interface BareSegment {
  readonly truth: boolean;
  readonly detection: boolean;
  durationMs: number;
}

/**
 * The segments of a detection set against a truth, in runs. Within a run each segment follows the one before it. Ward,
 * Lukowicz & Gellersen (2011) have no unknown; our own rule: time in which either is unknown belongs to no segment. The
 * known time on both sides of it is joined when it is at most `joinMs` long; a longer one ends the run, and a segment
 * at the end of a run has no neighbour there.
 *
 * A false negative is a deletion with no true positive beside it, a fragmentation between two, underfill at the start
 * before one and at the end after one; a false positive is an insertion, a merge, or overfill in the same way.
 * Public for the same check as {@link eventLabels}.
 * @throws RangeError when the two timelines do not cover the same time.
 */
export function eventRuns(detection: Timeline, truth: Timeline, joinMs: number): EventSegment[][] {
  const runs: BareSegment[][] = [];
  let run: BareSegment[] = [];
  let unknownMs = 0;
  walkTogether([detection, truth], (from, to, [detected, true_]) => {
    if (detected === UNKNOWN || true_ === UNKNOWN) {
      unknownMs += to - from;
      return;
    }
    if (unknownMs > joinMs && run.length > 0) {
      runs.push(run);
      run = [];
    }
    unknownMs = 0;
    const last = run.at(-1);
    const next = { truth: true_ === ON, detection: detected === ON, durationMs: to - from };
    if (last?.truth === next.truth && last.detection === next.detection) last.durationMs += next.durationMs;
    else run.push(next);
  });
  if (run.length > 0) runs.push(run);
  return runs.map((one) =>
    one.map((segment, i) => ({ ...segment, kind: kindOf(segment, isTruePositive(one[i - 1]), isTruePositive(one[i + 1])) })),
  );
}

function isTruePositive(segment: BareSegment | undefined): boolean {
  return segment !== undefined && segment.truth && segment.detection;
}

function kindOf({ truth, detection }: BareSegment, after: boolean, before: boolean): SegmentKind {
  if (truth === detection) return truth ? "true-on" : "true-off";
  if (after && before) return truth ? "fragmentation" : "merge";
  if (before) return truth ? "underfill-start" : "overfill-start";
  if (after) return truth ? "underfill-end" : "overfill-end";
  return truth ? "deletion" : "insertion";
}
