/* eslint-disable @typescript-eslint/no-non-null-assertion --
   `times` and `values` are long parallel arrays, walked below their length, and so are the steps of the reference */
import { sum } from "d3-array";
import { totalMs } from "../../ground/intervals.js";
import type { Timeline } from "../../timeline/timeline.js";
import { ON } from "../../timeline/timeline.js";
import { HOUR_MS } from "../../ground/units.js";
import type { Band } from "../../site/site.js";
import { EDGE_TOLERANCE_METRES } from "../signals/reading-states.js";
import type { Mode } from "./modes.js";

/**
 * A further place at which readings rest while the other witnesses say occupied: a hatch, a roof box, another vehicle.
 */
export interface OtherMode {
  readonly metres: number;
  readonly readings: number;
  /** How many separate stretches of readings, and the hours they last (from first to last reading of each). */
  readonly stretches: number;
  readonly hours: number;
  readonly firstAt: number;
  readonly insideBand: boolean;
}

/**
 * Readings this many standard deviations from a mode (and {@link LEAST_APART_METRES}) belong to another. Our own
 * choice.
 */
const APART_DEVIATIONS = 5;
/** Two centimetres: less is the same roof after the springs have settled. Common practice, no source. */
export const LEAST_APART_METRES = 0.02;
/** A single odd reading is noise; two in a row at one place are a thing. Our own choice. */
const FEWEST_IN_A_ROW = 2;

/** How far from a mode a reading may lie and still belong to it. */
function reachOf(mode: Mode): number {
  return Math.max(LEAST_APART_METRES, APART_DEVIATIONS * mode.deviationMetres);
}

/**
 * The other modes, nearest first: runs of at least two readings in a row that stay within the occupied mode's reach of
 * one another, away from both known modes, while `reference` (without the signal itself) says occupied throughout. Runs
 * at about the same place are one mode.
 */
export function otherModes(
  times: Float64Array,
  values: Float64Array,
  occupied: Mode,
  empty: Mode | null,
  band: Band,
  reference: Timeline,
): OtherMode[] {
  const reach = reachOf(occupied);
  const maximum = band.maximumMetres ?? Infinity;
  const strays = (value: number): boolean =>
    value < maximum && Math.abs(value - occupied.metres) > reach && (empty === null || Math.abs(value - empty.metres) > reachOf(empty));
  const runs: Run[] = [];
  let run: Run | null = null;
  let step = 0;
  for (let i = 0; i < times.length; i += 1) {
    const at = times[i]!;
    while (step + 1 < reference.times.length && reference.times[step + 1]! <= at) step += 1;
    const value = values[i]!;
    const counts = reference.states[step] === ON && strays(value);
    if (run !== null && (!counts || Math.abs(value - run.sum / run.readings) > reach)) run = null;
    if (!counts) continue;
    if (run === null) {
      run = { sum: 0, readings: 0, from: at, to: at };
      runs.push(run);
    }
    run.sum += value;
    run.readings += 1;
    run.to = at;
  }
  return grouped(
    runs.filter((one) => one.readings >= FEWEST_IN_A_ROW),
    reach,
    band,
  );
}

interface Run {
  sum: number;
  readings: number;
  readonly from: number;
  to: number;
}

function grouped(runs: readonly Run[], reach: number, band: Band): OtherMode[] {
  const level = (one: Run): number => one.sum / one.readings;
  const groups: Run[][] = [];
  for (const one of runs.toSorted((a, b) => level(a) - level(b))) {
    const group = groups.at(-1);
    const last = group?.at(-1);
    if (group !== undefined && last !== undefined && level(one) - level(last) <= reach) group.push(one);
    else groups.push([one]);
  }
  return groups.map((group) => {
    const readings = sum(group, (one) => one.readings);
    const metres = sum(group, (one) => one.sum) / readings;
    return {
      metres,
      readings,
      stretches: group.length,
      hours: totalMs(group) / HOUR_MS,
      firstAt: Math.min(...group.map((one) => one.from)),
      insideBand: metres >= band.nearMetres - EDGE_TOLERANCE_METRES && metres <= band.farMetres + EDGE_TOLERANCE_METRES,
    };
  });
}
