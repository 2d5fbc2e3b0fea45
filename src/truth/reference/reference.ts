import type { Timeline, TruthState } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";

/**
 * Who stands behind a stretch of the reference. "several": witnesses of at least two groups that no shared cause
 * connects, by any chain. "one": one witness, or several of one group; it supports, and verifies nothing.
 */
export type Basis = "diary" | "several" | "one" | "none";

/** A stretch `[from, to)` over which the best account of a subject does not change, nor who vouches for it. */
export interface ReferenceSegment {
  readonly from: number;
  readonly to: number;
  readonly state: TruthState;
  /** Of `state` being true; 0.5 where nobody can tell. */
  readonly probability: number;
  readonly basis: Basis;
  /** Signal ids that say so too; empty for the diary. */
  readonly vouchers: readonly string[];
}

/** The best account of one subject's true state, without the signals named in `excluding`. */
export interface Reference {
  readonly subject: string;
  readonly excluding: readonly string[];
  readonly timeline: Timeline;
  /** Contiguous over the whole period, in order. */
  readonly segments: readonly ReferenceSegment[];
  /** Restarts in which no witness was left: a change across one is no turn. In order; none if not given. */
  readonly barriers?: readonly Interval[];
}

/**
 * The seam: everything downstream asks for a reference through this and does not know how it was worked out.
 * Leaving out the signal under judgement (or all of a rule's signals) is done here. Answers are remembered.
 */
export type ReferenceBook = (subject: string, excluding: readonly string[]) => Reference;
