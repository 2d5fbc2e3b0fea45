/* eslint-disable @typescript-eslint/no-non-null-assertion -- times, states and texts of a signal run in parallel */

import { groups } from "d3-array";
import { MINUTE_MS } from "../ground/units.js";
import { causeGroups } from "../site/cause-groups.js";
import { gapsOf } from "./expect.js";
import type { FoundSignal } from "./found.js";
import { standing } from "./words.js";

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
  const telling = tellingBursts(burstsOf(signals.flatMap(momentsOf).sort((a, b) => a.instant - b.instant)));
  return groupsIn(telling, signals).map((group, i) => ({
    name: `cause-${i + 1}`,
    signals: group,
    instants: telling.filter(({ moments }) => moments.some(({ signal }) => group.includes(signal))).map(({ instant }) => instant),
  }));
}

/** Bursts of three signals, of two lost at once, or of the same two more than once; in order of time. */
function tellingBursts(bursts: readonly Burst[]): Burst[] {
  const telling: Burst[] = [];
  const links = new Map<string, Burst[]>();
  for (const burst of bursts) {
    const ids = [...new Set(burst.moments.map(({ signal }) => signal.id))];
    if (ids.length >= FEWEST_TOGETHER || (ids.length === 2 && burst.moments.every(({ lost }) => lost))) telling.push(burst);
    else if (ids.length === 2) links.set(ids.join(" "), [...(links.get(ids.join(" ")) ?? []), burst]);
  }
  const repeated = [...links.values()].filter((of) => of.length >= 2).flat();
  return [...telling, ...repeated].sort((a, b) => a.instant - b.instant);
}

/** The signals that bursts connect, through any chain of them; those connected with none are left out. */
function groupsIn(bursts: readonly Burst[], signals: readonly FoundSignal[]): FoundSignal[][] {
  const pairs = bursts.flatMap(({ first, moments }) => moments.map(({ signal }): [string, string] => [first.id, signal.id]));
  const groupOf = causeGroups(
    signals.map(({ id }) => ({ id, shares: [] })),
    pairs,
  );
  return groups(signals, ({ id }) => groupOf.get(id))
    .map(([, members]) => members)
    .filter((members) => members.length > 1);
}

function momentsOf(signal: FoundSignal): Moment[] {
  return [
    ...outOfTime(signal).map((instant) => ({ signal, instant, lost: false })),
    ...lostSince(signal).map((instant) => ({ signal, instant, lost: true })),
  ];
}

/** Readings that come out of their regular time and say what was said before. */
function outOfTime({ reading, readings, states, expect }: FoundSignal): number[] {
  // A phone reports its place whenever it likes.
  if (expect === null || reading.form === "position") return [];
  const { times, stretches } = readings;
  const regular = gapsOf(readings)
    .filter((gap) => Math.abs(gap - expect.ms) < 0.15 * expect.ms)
    .sort((a, b) => a - b);
  const period = regular[regular.length >> 1] ?? expect.ms;
  const jitter = 1.4826 * (regular.map((gap) => Math.abs(gap - period)).sort((a, b) => a - b)[regular.length >> 1] ?? 0);
  const allowed = Math.max(3_000, 3 * jitter, resolutionOf(times));
  if (allowed > period / 8) return [];
  const found: number[] = [];
  for (let i = LOOKED_BACK; i < times.length; i++) {
    if (stretches[i] !== stretches[i - LOOKED_BACK] || Number.isNaN(states[i]!) || states[i] !== states[i - 1]) continue;
    if (!isInTime(times, i, period, allowed)) found.push(times[i]!);
  }
  // A signal that is often out of its time has none.
  return found.length > 0.02 * times.length ? [] : found;
}

/** Whether a reading comes whole periods after one of the last few; what is allowed grows with the root of their number. */
function isInTime(times: Float64Array, i: number, period: number, allowed: number): boolean {
  for (let back = 1; back <= LOOKED_BACK; back++) {
    const gap = times[i]! - times[i - back]!;
    const beats = Math.round(gap / period);
    if (beats >= 1 && Math.abs(gap - beats * period) <= allowed * Math.sqrt(beats)) return true;
  }
  return false;
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
  readonly signal: FoundSignal;
  readonly instant: number;
  readonly lost: boolean;
}

/** Moments within 20 s of the first of them. */
interface Burst {
  readonly instant: number;
  readonly first: FoundSignal;
  readonly moments: Moment[];
}

function burstsOf(moments: readonly Moment[]): Burst[] {
  const bursts: Burst[] = [];
  for (const moment of moments) {
    const current = bursts.at(-1);
    if (current !== undefined && moment.instant - current.instant <= BURST_MS) current.moments.push(moment);
    else bursts.push({ instant: moment.instant, first: moment.signal, moments: [moment] });
  }
  return bursts;
}
