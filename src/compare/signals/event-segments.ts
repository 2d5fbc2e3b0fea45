import { eachJointStep } from "../../truth/episodes/joint-steps.js";
import type { Timeline } from "../../timeline/timeline.js";
import { ON, UNKNOWN } from "../../timeline/timeline.js";

/** What a stretch of jointly known time is, by its truth, its detection and its neighbours. */
export type SegmentKind = "true-on" | "true-off" | "insertion" | "merge" | "overfill-start" | "overfill-end" | "deletion" | "fragmentation" | "underfill-start" | "underfill-end";

/** A longest stretch over which neither the truth nor the detection changes. */
export interface EventSegment {
  readonly truth: boolean;
  readonly detection: boolean;
  /** Milliseconds of jointly known time in it. */
  readonly durationMs: number;
  readonly kind: SegmentKind;
}

interface Bare {
  readonly truth: boolean;
  readonly detection: boolean;
  durationMs: number;
}

/**
 * The segments of a detection set against a truth, in runs. Within a run each segment follows the one before it.
 * Ward, Lukowicz & Gellersen (2011) know no unknown; ours: time in which either is unknown belongs to no segment. The known
 * time on both sides of it is joined when it is at most `joinMs` long; a longer one ends the run, and whoever stands at the
 * end of a run has no neighbour there.
 *
 * A false negative is a deletion with no true positive beside it, a fragmentation between two, underfill at the
 * start before one and at the end after one; a false positive is an insertion, a merge, or overfill likewise.
 * @throws RangeError when the two timelines do not cover the same time.
 */
export function eventRuns(detection: Timeline, truth: Timeline, joinMs: number): EventSegment[][] {
  const runs: Bare[][] = [];
  let run: Bare[] = [];
  let unknownMs = 0;
  eachJointStep(detection, truth, (from, to, detected, true_) => {
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
  return runs.map((one) => one.map((segment, i) => ({ ...segment, kind: kindOf(segment, isTruePositive(one[i - 1]), isTruePositive(one[i + 1])) })));
}

function isTruePositive(segment: Bare | undefined): boolean {
  return segment !== undefined && segment.truth && segment.detection;
}

function kindOf({ truth, detection }: Bare, after: boolean, before: boolean): SegmentKind {
  if (truth === detection) return truth ? "true-on" : "true-off";
  if (after && before) return truth ? "fragmentation" : "merge";
  if (before) return truth ? "underfill-start" : "overfill-start";
  if (after) return truth ? "underfill-end" : "overfill-end";
  return truth ? "deletion" : "insertion";
}
