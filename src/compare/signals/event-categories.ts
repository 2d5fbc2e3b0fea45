import type { Timeline } from "../../timeline/timeline.js";
import { eventRuns, type EventSegment, type SegmentKind } from "./event-segments.js";
import { HOUR_MS } from "../../ground/units.js";

/** What became of one true "on", and what one detected "on" was. */
export type EventLabel = "alone" | "none" | "fragmented" | "merged" | "both";

/**
 * How a signal's "on" stretches stand against the reference's, by the published categories.
 * `hours` of jointly known time by segment; `reference` and `signal` count events.
 */
export interface EventCategories {
  readonly hours: {
    readonly trueOn: number;
    readonly trueOff: number;
    readonly insertion: number;
    readonly deletion: number;
    readonly fragmentation: number;
    readonly merge: number;
    readonly overfillStart: number;
    readonly overfillEnd: number;
    readonly underfillStart: number;
    readonly underfillEnd: number;
  };
  /** Visits of the reference: found by one stretch of the signal of their own (C), not at all (D), by several (F), together with another (M), or both (FM). */
  readonly reference: { readonly correct: number; readonly deleted: number; readonly fragmented: number; readonly merged: number; readonly fragmentedAndMerged: number };
  /** Stretches of the signal: of one visit (C), of none (I′), one of several of a visit (F′), of several visits (M′), or both (FM′). */
  readonly signal: { readonly correct: number; readonly inserted: number; readonly fragmenting: number; readonly merging: number; readonly fragmentingAndMerging: number };
}

/**
 * The event categories of Ward, Lukowicz & Gellersen (2011), ACM TIST 2(1):6, whose text we did not see: segments as
 * a public implementation of it labels them; event labels as its results tell them, checked on both of its worked inputs.
 * Over- and underfill do not keep an event from being correct; how much there was is told by the hours.
 */
export function eventCategories(signal: Timeline, reference: Timeline, joinMs: number): EventCategories {
  const runs = eventRuns(signal, reference, joinMs);
  const hours = (kind: SegmentKind): number => runs.flat().reduce((sum, segment) => sum + (segment.kind === kind ? segment.durationMs : 0), 0) / HOUR_MS;
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
    reference: { correct: visits.alone, deleted: visits.none, fragmented: visits.fragmented, merged: visits.merged, fragmentedAndMerged: visits.both },
    signal: { correct: said.alone, inserted: said.none, fragmenting: said.fragmented, merging: said.merged, fragmentingAndMerging: said.both },
  };
}

/** Nothing seen, nothing claimed. */
export const NO_EVENTS: EventCategories = {
  hours: { trueOn: 0, trueOff: 0, insertion: 0, deletion: 0, fragmentation: 0, merge: 0, overfillStart: 0, overfillEnd: 0, underfillStart: 0, underfillEnd: 0 },
  reference: { correct: 0, deleted: 0, fragmented: 0, merged: 0, fragmentedAndMerged: 0 },
  signal: { correct: 0, inserted: 0, fragmenting: 0, merging: 0, fragmentingAndMerging: 0 },
};

/**
 * One label an event of a run, in order. An event is a longest stretch in which `side` is on. It is without counterpart when
 * no segment of it is a true positive. What splits (fragmentation) lies inside a true event and beside a detected one, what
 * joins (merge) beside a true event and inside a detected one: so both kinds are looked for inside and next to the event.
 */
export function eventLabels(run: readonly EventSegment[], side: "truth" | "detection"): EventLabel[] {
  const labels: EventLabel[] = [];
  for (let i = 0; i < run.length; i += 1) {
    if (!run[i]![side]) continue;
    const first = i;
    while (i + 1 < run.length && run[i + 1]![side]) i += 1;
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
