/** Two parts as bare pulses, and what an audit would keep of them. */
import { DESIGN_COUNTING, type DesignHistory, type PartHistory } from "../../../src/result/design.js";

export const DAY_SECONDS = 86_400;
/** A month of the study, in days. */
export const MONTH_DAYS = 30;
export const DAYS_A_YEAR = 365.25;

/** One report that keeps a part on, or several that run into one. Seconds since the first midnight. */
export interface Pulse {
  readonly at: number;
  readonly seconds: number;
  /** A true event that two references saw. */
  readonly explained: boolean;
}

/** What happened to two parts over some days. */
export interface Made {
  /** In any order; pulses of one part may overlap. */
  readonly pulses: readonly [readonly Pulse[], readonly Pulse[]];
  /** How long one report keeps each part on. */
  readonly windows: readonly [number, number];
  /** One letter a day, as in a design history. */
  readonly days: string;
  readonly homeShare: number;
}

/** Weekdays and weekends of so many days, from a Monday on. */
export function weekLetters(days: number): string {
  return Array.from({ length: days }, (_, day) => (day % 7 > 4 ? "e" : "w")).join("");
}

/** Pulses that overlap or touch as one stretch each, in order. */
export function merged(pulses: readonly Pulse[]): Pulse[] {
  const found: { at: number; seconds: number; explained: boolean }[] = [];
  for (const pulse of pulses.toSorted((a, b) => a.at - b.at)) {
    const last = found.at(-1);
    if (last !== undefined && pulse.at <= last.at + last.seconds) {
      last.seconds = Math.max(last.seconds, pulse.at + pulse.seconds - last.at);
      last.explained ||= pulse.explained;
    } else found.push({ ...pulse });
  }
  return found;
}

/** Times at which a stretch of each list is on, in order. Explained where both are. */
export function together(a: readonly Pulse[], b: readonly Pulse[]): Pulse[] {
  const found: Pulse[] = [];
  for (let i = 0, j = 0; i < a.length && j < b.length; ) {
    const [one, other] = [a[i]!, b[j]!];
    const [ends, otherEnds] = [one.at + one.seconds, other.at + other.seconds];
    const at = Math.max(one.at, other.at);
    const seconds = Math.min(ends, otherEnds) - at;
    if (seconds > 0) found.push({ at, seconds, explained: one.explained && other.explained });
    if (ends < otherEnds) i += 1;
    else j += 1;
  }
  return found;
}

/** What was seen over the first days, and how often both parts were on at once: wrong firings. */
export interface Looked {
  readonly history: DesignHistory;
  readonly wrong: number;
}

/** A look after so many days. */
export function lookedAt(made: Made, dayCount: number): Looked {
  const days = made.days.slice(0, dayCount);
  const seen = made.pulses.map((pulses) => merged(pulses.filter(({ at }) => at < dayCount * DAY_SECONDS))) as [Pulse[], Pulse[]];
  const both = together(...seen);
  const part = (name: PartHistory["name"], i: 0 | 1): PartHistory => ({
    name,
    signals: [name],
    longestSeconds: seen[i].reduce((longest, { seconds }) => Math.max(longest, seconds), made.windows[i]),
    stretches: seen[i].map(({ at, seconds, explained }) => {
      const day = Math.floor(at / DAY_SECONDS);
      return { day, at: at - day * DAY_SECONDS, seconds, explained };
    }),
  });
  const kept = Array.from(days).filter((letter) => letter !== "x").length;
  return {
    history: {
      counting: DESIGN_COUNTING,
      days,
      years: kept / DAYS_A_YEAR,
      homeShare: made.homeShare,
      parts: [part("vehicles", 0), part("people", 1)],
      trueTogether: both.filter(({ explained }) => explained).length,
    },
    wrong: both.length,
  };
}
