/* eslint-disable @typescript-eslint/no-non-null-assertion -- times and states run in parallel; sorted lists are walked within them */

import { firstAtOrAfter } from "../ground/search.js";
import type { FoundSignal } from "./found.js";
import { loneReadings } from "./settle.js";

/** A signal's changes: when it turned on and when off (a change to or from what is neither is none). */
export interface Changes {
  readonly on: readonly number[];
  readonly off: readonly number[];
  /** A change may be seen this much later than it came: the interval of a sensor that is asked at intervals, else 0. */
  readonly lateMs: number;
}

/** Changes of one thing seen by two sensors lie within this time of one another (our own choice). */
const TOGETHER_MS = 90_000;
/** And within the interval of the slower one and this (our own choice). */
const BESIDES_MS = 60_000;
/** A sensor is asked at intervals when most of its changes come one interval after the reading before (our own choice). */
const ALIKE = 0.2;
/** Fewer changes show nothing. */
const FEWEST = 4;

/** The instants at which a signal's readings change state; lost echoes of a meter are no changes. */
export function changesOf(signal: Pick<FoundSignal, "readings" | "states" | "expect">): Changes {
  const { readings: { times }, states, expect } = signal;
  const losesEchoes = loneReadings(signal) > 0;
  const on: number[] = [];
  const off: number[] = [];
  let last = Number.NaN;
  let inStep = 0;
  states.forEach((state, i) => {
    if (Number.isNaN(state) || (losesEchoes && state !== last && states[i - 1] === last && states[i + 1] === last)) return;
    if (!Number.isNaN(last) && state !== last) {
      (state === 1 ? on : off).push(times[i]!);
      if (expect !== null && Math.abs(times[i]! - times[i - 1]! - expect.ms) <= ALIKE * expect.ms) inStep++;
    }
    last = state;
  });
  return { on, off, lateMs: expect !== null && inStep > (on.length + off.length) / 2 ? expect.ms : 0 };
}

/** Changes of two sensors this near one another may be of one event. */
export function togetherWithinMs(a: Changes, b: Changes): number {
  return Math.max(TOGETHER_MS, Math.max(a.lateMs, b.lateMs) + BESIDES_MS);
}

/** A person comes and goes this near a vehicle or a door (our own choice). */
const NEAR_MS = 10 * 60_000;

/** The share of a signal's changes that lie near one of some others', in either direction, beyond what chance would bring near: 0 to 1. */
export function nearby(changes: Changes, others: readonly Changes[]): { readonly share: number; readonly near: number; readonly of: number } {
  const own = [...changes.on, ...changes.off].sort((a, b) => a - b);
  const theirs = others.flatMap(({ on, off }) => [...on, ...off]).sort((a, b) => a - b);
  const isNear = (at: number): boolean => (theirs[firstAtOrAfter(theirs, at - NEAR_MS)] ?? Infinity) <= at + NEAR_MS;
  const near = own.filter(isNear).length;
  const all = [own[0], own.at(-1), theirs[0], theirs.at(-1)].filter((at) => at !== undefined);
  const span = Math.max(...all) - Math.min(...all);
  if (own.length < FEWEST || theirs.length < FEWEST || span <= 0) return { share: 0, near, of: own.length };
  const chance = 1 - Math.exp((-2 * NEAR_MS * theirs.length) / span);
  return { share: Math.max(0, (near / own.length - chance) / (1 - chance)), near, of: own.length };
}

/** How well two signals' changes go together, as they stand and with one reversed: 0 not at all, 1 always. */
export interface Together {
  readonly same: number;
  readonly reversed: number;
  readonly matched: number;
  readonly changes: number;
}

/**
 * Twice the changes that have a partner within 90 s (or the interval of the slower sensor), over all changes (Dice's measure), less what chance would pair:
 * (measure − chance) / (1 − chance), as Cohen's kappa does it. 0 where there are too few changes, or nothing but chance.
 */
export function together(a: Changes, b: Changes): Together {
  const changes = a.on.length + a.off.length + b.on.length + b.off.length;
  if (Math.min(a.on.length + a.off.length, b.on.length + b.off.length) < FEWEST) return { same: 0, reversed: 0, matched: 0, changes };
  const withinMs = togetherWithinMs(a, b);
  const same = pairs(a.on, b.on, withinMs) + pairs(a.off, b.off, withinMs);
  const reversed = pairs(a.on, b.off, withinMs) + pairs(a.off, b.on, withinMs);
  const chance = chanceOf(a, b, withinMs);
  const beyond = (pairsFound: number): number => (chance >= 1 ? 0 : Math.max(0, ((2 * pairsFound) / changes - chance) / (1 - chance)));
  return { same: beyond(same), reversed: beyond(reversed), matched: Math.max(same, reversed), changes };
}

/** The share of instants with a change of the busier signal, in one direction, within that time, if its changes were spread at random. */
function chanceOf(a: Changes, b: Changes, withinMs: number): number {
  const all = [...a.on, ...a.off, ...b.on, ...b.off];
  const span = all.reduce((most, at) => Math.max(most, at), -Infinity) - all.reduce((least, at) => Math.min(least, at), Infinity);
  const busier = Math.max(a.on.length, a.off.length, b.on.length, b.off.length);
  return span <= 0 ? 1 : 1 - Math.exp((-2 * withinMs * busier) / span);
}

/** How many pairs two sorted lists of instants make, each instant used once. */
function pairs(a: readonly number[], b: readonly number[], withinMs: number): number {
  let [i, j, found] = [0, 0, 0];
  while (i < a.length && j < b.length) {
    const apart = a[i]! - b[j]!;
    if (Math.abs(apart) <= withinMs) {
      found++;
      i++;
      j++;
    } else if (apart < 0) i++;
    else j++;
  }
  return found;
}
