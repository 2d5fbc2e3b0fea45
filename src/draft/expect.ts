/* eslint-disable @typescript-eslint/no-non-null-assertion -- a signal's times are walked within their length */

import { APART_MS } from "../intake/time-parts.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../ground/units.js";
import { quantile } from "./bands.js";
import type { FoundReadings } from "./found.js";

/** Intervals that people set. */
const usual = [1, 2, 5, 10, 15, 20, 30]
  .map((n) => n * SECOND_MS)
  .concat(
    [1, 2, 3, 4, 5, 10, 15, 20, 30].map((n) => n * MINUTE_MS),
    [1, 2, 3, 4, 6].map((n) => n * HOUR_MS),
  );
/** Gaps are alike when they lie within this part of one another (our own choice). */
const ALIKE = 0.15;
/** A signal reports regularly when gaps alike make up this share of the time (our own choice). */
const LEAST_SHARE = 0.5;
const FEWEST_GAPS = 20;
const LONGEST = 6 * HOUR_MS;

/** Gaps between neighbouring readings, in milliseconds; those between stretches left out. */
export function gapsOf({ times, stretches }: FoundReadings): number[] {
  const gaps: number[] = [];
  for (let i = 1; i < times.length; i++) {
    if (stretches[i] === stretches[i - 1] && times[i]! > times[i - 1]!) gaps.push(times[i]! - times[i - 1]!);
  }
  return gaps;
}

/**
 * The interval at which a signal reports without being asked: the gap in the middle of the time (half of the time
 * passes in shorter gaps), if gaps like it make up most of the time, as the next interval that people set. Null for
 * a signal that only reports changes: its gaps are of every length.
 */
export function findExpect(readings: FoundReadings): { readonly ms: number; readonly share: number } | null {
  // A single stamp of a clock that was not set would be years away from the others, and outweigh them all.
  const gaps = gapsOf(readings)
    .filter((gap) => gap <= APART_MS)
    .sort((a, b) => a - b);
  const total = gaps.reduce((sum, gap) => sum + gap, 0);
  let passed = 0;
  const middle = gaps.find((gap) => (passed += gap) >= total / 2);
  if (middle === undefined || middle > LONGEST * (1 + ALIKE)) return null;
  const alike = gaps.filter((gap) => Math.abs(gap - middle) <= ALIKE * middle);
  const share = alike.reduce((sum, gap) => sum + gap, 0) / total;
  if (alike.length < FEWEST_GAPS || share < LEAST_SHARE) return null;
  const typical = quantile(alike, 0.5);
  const near = usual.find((ms) => Math.abs(ms - typical) <= 0.05 * ms) ?? usual.find((ms) => ms >= typical);
  return { ms: near ?? Math.ceil(typical / MINUTE_MS) * MINUTE_MS, share };
}
