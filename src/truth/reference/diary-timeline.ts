import type { DiaryEntry } from "../../intake/readings.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { OFF, ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";

/**
 * What the diary says of one subject over `period`: unknown where nothing was written, and where two entries contradict
 * each other, since then neither is certain. Entries may overlap and come in any order; empty ones say nothing.
 */
export function diaryTimeline(diary: readonly DiaryEntry[], subject: string, period: Interval): Timeline {
  const bounds = diary
    .filter((entry) => entry.subject === subject && entry.from < entry.to)
    .flatMap(({ from, to, state }) => [
      { at: from, state, change: 1 },
      { at: to, state, change: -1 },
    ])
    .toSorted((a, b) => a.at - b.at);
  // How many entries now say off and on. Of steps at one instant the last wins, when all of them have been counted.
  const saying = [0, 0];
  const states = bounds.map(({ state, change }) => {
    saying[state]! += change;
    const [off, on] = [saying[OFF]! > 0, saying[ON]! > 0];
    return off === on ? UNKNOWN : on ? ON : OFF;
  });
  return canonicalTimeline(
    period.from,
    period.to,
    bounds.map((bound) => bound.at),
    states,
  );
}
