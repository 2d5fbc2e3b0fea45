import { gapsOf } from "./expect.js";
import type { FoundSignal } from "./found.js";
import { standing } from "./words.js";
import { MINUTE_MS } from "../ground/units.js";

/** Signals that seem to depend on one thing, and the instants that show it. */
export interface CauseFound {
  readonly name: string;
  readonly signals: readonly FoundSignal[];
  readonly instants: readonly number[];
  /** What shows it, where that is no single instant; a predicate. */
  readonly text?: string;
}

/** What starts again with one board or hub reports within this time (our own choice, as the setting `restart`). */
const BURST_MS = 20_000;
/** This many earlier readings show whether the next comes at its usual time. */
const LOOKED_BACK = 4;
/** One such moment may be chance for two signals, hardly for three (our own choice). */
const FEWEST_TOGETHER = 3;

/**
 * Groups of signals that start again together. A signal that reports regularly gives itself away by a reading out of
 * its time that says nothing new: so does a sensor that has just started. Three or more within 20 s of one another, or
 * the same two twice, are taken for one shared cause; so are two that are lost at once. A guess: it shows only what
 * happened to restart.
 */
export function sharedCauses(signals: readonly FoundSignal[]): CauseFound[] {
  const moments = signals.flatMap((signal, at) => [...outOfTime(signal).map((instant) => ({ at, instant, lost: false })), ...lostSince(signal).map((instant) => ({ at, instant, lost: true }))]);
  const bursts = burstsOf(moments.sort((a, b) => a.instant - b.instant));
  const links = new Map<string, Moment[][]>();
  const telling: Moment[][] = [];
  const group = signals.map((_, i) => i);
  const find = (i: number): number => (group[i] === i ? i : (group[i] = find(group[i]!)));
  for (const burst of bursts) {
    const members = [...new Set(burst.map(({ at }) => at))];
    if (members.length >= FEWEST_TOGETHER || (members.length === 2 && burst.every(({ lost }) => lost))) telling.push(burst);
    else if (members.length === 2) links.set(members.join(" "), [...(links.get(members.join(" ")) ?? []), burst]);
  }
  for (const twice of links.values()) if (twice.length >= 2) telling.push(...twice);
  for (const burst of telling) for (const { at } of burst) group[find(at)] = find(burst[0]!.at);
  const members = new Map<number, FoundSignal[]>();
  signals.forEach((signal, i) => members.set(find(i), [...(members.get(find(i)) ?? []), signal]));
  return [...members.values()].filter((group) => group.length > 1).map((group, i) => ({
    name: `cause-${i + 1}`,
    signals: group,
    instants: telling.filter((burst) => burst.some(({ at }) => group.includes(signals[at]!))).map((burst) => burst[0]!.instant).sort((a, b) => a - b),
  }));
}

/** Readings that come out of their regular time and say what was said before. */
function outOfTime({ reading, readings, states, expect }: FoundSignal): number[] {
  // A phone reports its place whenever it likes.
  if (expect === null || reading.form === "position") return [];
  const { times, stretches } = readings;
  const regular = gapsOf(readings).filter((gap) => Math.abs(gap - expect.ms) < 0.15 * expect.ms).sort((a, b) => a - b);
  const period = regular[regular.length >> 1] ?? expect.ms;
  const jitter = 1.4826 * (regular.map((gap) => Math.abs(gap - period)).sort((a, b) => a - b)[regular.length >> 1] ?? 0);
  const allowed = Math.max(3_000, 3 * jitter, resolutionOf(times));
  if (allowed > period / 8) return [];
  const found: number[] = [];
  for (let i = LOOKED_BACK; i < times.length; i++) {
    if (stretches[i] !== stretches[i - LOOKED_BACK] || Number.isNaN(states[i]!) || states[i] !== states[i - 1]) continue;
    let inTime = false;
    for (let back = 1; back <= LOOKED_BACK && !inTime; back++) {
      const gap = times[i]! - times[i - back]!;
      const beats = Math.round(gap / period);
      inTime = beats >= 1 && Math.abs(gap - beats * period) <= allowed * Math.sqrt(beats);
    }
    if (!inTime) found.push(times[i]!);
  }
  // A signal that is often out of its time has none.
  return found.length > 0.02 * times.length ? [] : found;
}

/** Stamps without seconds are early or late by up to a minute without anything being out of its time. */
function resolutionOf(times: Float64Array): number {
  return times.every((instant) => instant % MINUTE_MS === 0) ? MINUTE_MS : 0;
}

function lostSince({ readings: { times, texts } }: FoundSignal): number[] {
  const found: number[] = [];
  let lost = false;
  texts.forEach((text, i) => {
    const isLost = standing(text) === "lost";
    if (isLost && !lost) found.push(times[i]!);
    lost = isLost;
  });
  return found;
}

interface Moment {
  readonly at: number;
  readonly instant: number;
  readonly lost: boolean;
}

/** Moments within 20 s of the first of them. */
function burstsOf(moments: readonly Moment[]): Moment[][] {
  const bursts: Moment[][] = [];
  for (const moment of moments) {
    const current = bursts.at(-1);
    if (current !== undefined && moment.instant - current[0]!.instant <= BURST_MS) current.push(moment);
    else bursts.push([moment]);
  }
  return bursts;
}
