import type { DiaryEntry } from "../../../src/intake/readings.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { SubjectClass } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { Timeline, TruthState } from "../../../src/timeline/timeline.js";
import type { Site } from "../../../src/site/site.js";
import { signal, siteOf } from "../signals/small-site.js";
import type { Interval } from "../../../src/ground/intervals.js";

export const MINUTE = 60_000;
export const HOUR = 60 * MINUTE;
export const DAY = 24 * HOUR;

/** Steps as `[minute, state]`. */
export type Steps = readonly (readonly [number, TruthState])[];

export function inMinutes(lengthMinutes: number, steps: Steps): Timeline {
  return timelineOf(0, lengthMinutes * MINUTE, steps.map(([minute, state]) => [minute * MINUTE, state] as const));
}

export function accountOf(id: string, account: Timeline, restarts: readonly Interval[] = []): SignalAccount {
  return { signal: id, account, live: account, silences: [], restarts: restarts.map((one) => ({ ...one, cause: "hub" })), readingCount: 1, flapCount: 0 };
}

/** A signal as a test writes it down. */
export interface SmallSignal {
  readonly on: string;
  readonly shares?: readonly string[];
  readonly account: Timeline;
  readonly restarts?: readonly Interval[];
}

/** A site whose subjects' class is the first word of their id: bay-1, door-2, person-3. */
export function smallSite(signals: Readonly<Record<string, SmallSignal>>): { site: Site; accounts: Map<string, SignalAccount> } {
  const base = siteOf(Object.entries(signals).map(([id, one]) => signal(id, { subject: one.on, shares: one.shares ?? [] })));
  return {
    site: { ...base, subjects: base.subjects.map((one) => ({ ...one, class: one.id.split("-")[0] as SubjectClass })) },
    accounts: new Map(Object.entries(signals).map(([id, one]) => [id, accountOf(id, one.account, one.restarts)])),
  };
}

export function wrote(subject: string, state: 0 | 1, fromMinute: number, toMinute: number): DiaryEntry {
  return { subject, state, from: fromMinute * MINUTE, to: toMinute * MINUTE, file: "diary.csv", line: 2 };
}
