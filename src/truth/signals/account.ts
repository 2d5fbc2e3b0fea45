import type { Interval } from "../../ground/intervals.js";
import { MINUTE_MS } from "../../ground/units.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";

/**
 * One signal's history over the audited period, in two versions.
 * `account` is what can be said afterwards: a silence is unknown from the last reading on.
 * `live` is what a rule would have seen at the time: the last state stands until the silence is noticed
 * (2.5 × expect). A rule is replayed on `live`, so that a dying sensor's last word can still do harm in the replay.
 * Of a stir signal `live` says stirring and still.
 * During a restart of a shared cause both are unknown: what hears the sensors was itself down, or heard none of them.
 */
export interface SignalAccount {
  readonly signal: string;
  readonly account: Timeline;
  readonly live: Timeline;
  /**
   * What the signal vouches for, where that is less than it says: a distance that is neither in its band nor where an
   * empty bay reads vouches for nothing, though rules see "off". Absent where it vouches for all of `account`.
   */
  readonly vote?: Timeline;
  /**
   * Of a stir signal: stirring, still or dark, as can be said afterwards. Its `account` is on where it stirs and unknown
   * elsewhere, for its stillness says nothing of the person. Absent for every other signal.
   */
  readonly stirring?: Timeline;
  /**
   * Stretches without a reading for longer than 2.5 × expect, from the last reading to the next; and those in which
   * nothing was heard of its board, hub, source or site for much longer than at any other time.
   */
  readonly silences: readonly Interval[];
  /** Outages of a shared cause, seen in three or more of its signals. Coming back from one is never a turn. */
  readonly restarts: readonly { readonly from: number; readonly to: number; readonly cause: string }[];
  readonly readingCount: number;
  /** Turns that were taken back within a minute. */
  readonly flapCount: number;
}

/**
 * A turn taken back within this time (milliseconds) is a flap. No vehicle, gate or person comes and goes within a
 * minute often enough to matter; a loose contact or a reading on the edge of its band does. Common practice, no source.
 */
const FLAP_WITHIN_MS = MINUTE_MS;

/** When turns happened that were taken back within {@link FLAP_WITHIN_MS}, inclusive. Going unknown or coming back is no turn. */
export function flapTimes(timeline: Timeline): number[] {
  const { times, states } = timeline;
  const found: number[] = [];
  for (let i = 1; i + 1 < times.length; i += 1) {
    const known = states[i] !== UNKNOWN && states[i - 1] !== UNKNOWN;
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the loop ends before the last step
    if (known && states[i + 1] === states[i - 1] && times[i + 1]! - times[i]! <= FLAP_WITHIN_MS) found.push(times[i]!);
  }
  return found;
}
