import type { Timeline } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";

/**
 * One signal's history over the audited period, told twice.
 * `account` is what one may say afterwards: a silence is unknown from the last reading on.
 * `live` is what a rule would have seen at the time: the last state stands until the silence is noticed
 * (2.5 × expect). A rule is replayed on `live`, so that a dying sensor's last word can still do harm in the replay.
 * During a restart of a shared cause both are unknown: what hears the sensors was itself down, or heard none of them.
 */
export interface SignalAccount {
  readonly signal: string;
  readonly account: Timeline;
  readonly live: Timeline;
  /**
   * What the signal vouches for, where that is less than it says: a distance that reads neither in its band nor as it does in an empty
   * bay speaks for nothing, though rules hear "off". Absent where it vouches for all of `account`.
   */
  readonly vote?: Timeline;
  /** Stretches without a reading for longer than 2.5 × expect, from the last reading to the next; and those in which nothing of its board, hub, source or site was heard for far longer than ever else. */
  readonly silences: readonly Interval[];
  /** Outages of a shared cause, seen in three or more of its signals (this one need not be among them): the return from one is never a turn. */
  readonly restarts: readonly { readonly from: number; readonly to: number; readonly cause: string }[];
  readonly readingCount: number;
  /** Turns that were taken back within a minute. */
  readonly flapCount: number;
}
