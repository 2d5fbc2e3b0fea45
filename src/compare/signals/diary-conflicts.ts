import { LAG_TOLERANCE_MS } from "../../truth/episodes/episode.js";
import { walkTogether } from "../../timeline/walk-together.js";
import type { DiaryEntry } from "../../intake/readings.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { Site } from "../../site/site.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { totalMs, type Interval } from "../../ground/intervals.js";
import { HOUR_MS } from "../../ground/units.js";

/** A stretch `[from, to)` in which a signal said the opposite of what a person wrote down. */
export interface DiaryConflict {
  readonly signal: string;
  readonly subject: string;
  readonly said: "on" | "off";
  readonly from: number;
  readonly to: number;
  /** Where the entry stands. */
  readonly file: string;
  readonly line: number;
}

/** All conflicts, and the longest of them. */
export interface DiaryConflicts {
  readonly count: number;
  /** Of these, no longer than a minute. */
  readonly brief: number;
  readonly hours: number;
  /** Longest first. */
  readonly list: readonly DiaryConflict[];
}

/** At most this many are listed. Our own choice: with more, the diary or the signal is wrong throughout. */
const MOST_CONFLICTS_LISTED = 50;

/**
 * Where signals contradict the diary beyond lag. A contradiction is lag, and no conflict, when it touches a beginning
 * or an end of the entry and lasts no longer than `joinMs`: the signal, or the person, was a little late or early. It
 * does not say who is wrong: a person may mistake a date.
 */
export function diaryConflicts(
  site: Site,
  accounts: ReadonlyMap<string, SignalAccount>,
  diary: readonly DiaryEntry[],
  period: Interval,
): DiaryConflicts {
  const all = diary
    .flatMap((entry) => {
      const window = { from: Math.max(entry.from, period.from), to: Math.min(entry.to, period.to) };
      if (window.from >= window.to) return [];
      return site.signals.flatMap(({ id, subject }): DiaryConflict[] => {
        const account = accounts.get(id)?.account;
        if (subject !== entry.subject || account === undefined) return [];
        return contradictions(account, entry, window)
          .filter((one) => !((one.from === entry.from || one.to === entry.to) && one.to - one.from <= site.joinMs))
          .map((one) => ({ signal: id, subject, said: entry.state === 1 ? "off" : "on", ...one, file: entry.file, line: entry.line }));
      });
    })
    .sort((a, b) => b.to - b.from - (a.to - a.from) || a.from - b.from);
  return {
    count: all.length,
    brief: all.filter((one) => one.to - one.from <= LAG_TOLERANCE_MS).length,
    hours: totalMs(all) / HOUR_MS,
    list: all.slice(0, MOST_CONFLICTS_LISTED),
  };
}

function contradictions(account: Timeline, entry: DiaryEntry, window: Interval): Interval[] {
  const written = canonicalTimeline(account.start, account.end, [window.from, window.to], [entry.state, UNKNOWN]);
  const found: Interval[] = [];
  walkTogether([account, written], (from, to, [said, was]) => {
    if (said !== UNKNOWN && was !== UNKNOWN && said !== was) found.push({ from, to });
  });
  return found;
}
