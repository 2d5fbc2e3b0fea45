import { stretches } from "../timeline/stretches.js";
import { OFF, ON, type Timeline } from "../timeline/timeline.js";
import { occasions } from "./causes.js";
import { heardStretches, type Step } from "./heard.js";
import { dailyWindows } from "./local-calendar.js";
import type { Scenario, Sensor } from "./scenario.js";
import { difference, holding, intersection, type Interval, shrunk, totalMs } from "../ground/intervals.js";

/** A phantom is at least this far from the sensor's true changes: nearer, it would be an early or late report. */
const CLEARANCE_MS = 2 * 60_000;

/** What a sensor says without cause, and the time in which it could. */
export interface PhantomsOf {
  readonly stretches: readonly Interval[];
  readonly exposureMs: number;
}

/**
 * The stretches in which the sensor says `state` without cause: a Poisson process over the time in which the truth and the
 * sensor both hold the opposite, away from their changes and from `blocked`, and within the fault's hours.
 */
export function phantomsOf(scenario: Scenario, name: string, sensor: Sensor, truth: Timeline, steps: readonly Step[], blocked: readonly Interval[], state: 0 | 1): PhantomsOf {
  const rate = state === ON ? sensor.faults.phantom : sensor.faults.phantom_off;
  if (rate === undefined) return { stretches: [], exposureMs: 0 };
  const opposite = state === ON ? OFF : ON;
  const quiet = shrunk(intersection(stretches(truth, opposite), heardStretches(steps, truth.end, opposite)), CLEARANCE_MS);
  const free = difference(quiet, blocked);
  const hours = rate.between === undefined ? free : intersection(free, dailyWindows(scenario.timezone, truth.start, truth.end, ...rate.between));
  const found = occasions(rate, scenario, truth.start, truth.end, "sensor", name, state === ON ? "phantom" : "phantom-off")
    .filter(({ from }) => holding(hours, from) !== null)
    // It may outlast its hours, but not the quiet that makes it a phantom. All hours are within the quiet.
    .map(({ from, to }) => ({ from, to: Math.min(to, holding(free, from)?.to ?? from) }))
    .filter(({ from, to }) => from < to);
  return { stretches: found, exposureMs: totalMs(hours) };
}
