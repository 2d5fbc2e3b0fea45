import { durationText } from "../../ground/duration.js";
import { quantileSorted } from "d3-array";
import { MINUTE_SECONDS, SECOND_MS } from "../../ground/units.js";
import { pairedTurns, type PairedTurn, type Watchers } from "./paired-turns.js";

/** With fewer turns in a direction, a pair of signals says nothing of its own. Our own choice. */
const LEAST_TURNS = 5;
/** Amounts this close are the same: sensors themselves differ by as much. Our own choice. Seconds. */
const SAME_SECONDS = 5;
/** Nor may they differ by more than this share of the offset. Our own choice. */
export const SAME_SHARE = 0.25;
/** From here on, an offset that is the same in both directions is a clock's even if only one pair of sensors shows it. Our own choice. */
export const SURELY_CLOCK_SECONDS = 5 * MINUTE_SECONDS;

/**
 * Why an offset of two sources need not be their clocks', in a sentence; null where nothing else explains it. A clock
 * moves every signal of its source, in both directions, by the same amount. So it is doubted where some pair of signals
 * is apart by another amount in some direction; where the differences are spread more widely than the offset is large,
 * as by a sensor that reports every few minutes; and where fewer than two signals of each source show it, since one
 * sensor may be late by nature.
 */
export function otherThanClock(watchers: readonly Watchers[], turns: readonly PairedTurn[], offsetSeconds: number, windowMs: number): string | null {
  const size = Math.abs(offsetSeconds);
  const shown = watchers.flatMap((one) => {
    const paired = pairedTurns(one, windowMs, offsetSeconds * SECOND_MS);
    return ([0, 1] as const).flatMap((to) => {
      const seconds = sortedSeconds(paired.filter((turn) => turn.to === to));
      return seconds.length < LEAST_TURNS ? [] : [{ signals: one.signals, median: quantileSorted(seconds, 0.5) ?? 0 }];
    });
  });
  const odd = shown.find(({ median }) => Math.abs(median - offsetSeconds) > Math.max(SAME_SECONDS, SAME_SHARE * size));
  if (odd !== undefined) {
    return `${odd.signals.join(" and ")} are apart by ${secondsText(odd.median)} one way. A wrong clock would shift all changes alike: this is more likely a sensor that is late by nature.`;
  }
  const all = sortedSeconds(turns);
  const [near, far] = [quantileSorted(all, 0.1) ?? 0, quantileSorted(all, 0.9) ?? 0];
  if (far - near > size) return `The differences spread from ${secondsText(near)} to ${secondsText(far)}, like those of a sensor that reports only now and then. A wrong clock would shift all alike.`;
  const distinct = (place: 0 | 1): number => new Set(shown.map(({ signals }) => signals[place])).size;
  if (size < SURELY_CLOCK_SECONDS && Math.min(distinct(0), distinct(1)) < 2) {
    return onePairText(distinct(0) < 2, distinct(1) < 2, shown[0]?.signals);
  }
  return null;
}

/** Why one pair is not enough, and how to find out all the same. */
function onePairText(firstAlone: boolean, secondAlone: boolean, signals: readonly [string, string] | undefined): string {
  const alone = signals?.filter((_, i) => (i === 0 ? firstAlone : secondAlone)) ?? ["one sensor"];
  return (
    `Only ${alone.join(" and ")} ${alone.length === 1 ? "shows" : "show"} it, and a sensor may be late by nature. ` +
    "Only two sensors of each source, late by the same, would show a wrong clock. So no correction is advised: a wrong one would do harm. " +
    "To find out, compare the times that both devices show at one moment. Or do something that both see, such as opening the door, " +
    "and write down when, by a clock that the network sets. If the clocks are that far apart, set the wrong one."
  );
}

function sortedSeconds(turns: readonly PairedTurn[]): number[] {
  return turns.map(({ differenceMs }) => differenceMs / SECOND_MS).sort((a, b) => a - b);
}

function secondsText(seconds: number): string {
  return durationText(Math.round(seconds) * SECOND_MS);
}
