import { stretches } from "../timeline/stretches.js";
import { ON, type Timeline } from "../timeline/timeline.js";
import { heardStretches, stateHeard, type Step } from "./heard.js";
import { wholeSecond } from "./movements.js";
import { exponential, happens, normal, randomStream, uniform } from "./random.js";
import type { Instants } from "./reporting.js";
import type { Scenario, Sensor } from "./scenario.js";
import type { Truth } from "./truth.js";
import { holding, intersection, type Interval } from "../ground/intervals.js";

/** One row to be exported: one cell, or latitude and longitude. */
export interface ReadingRow {
  readonly at: number;
  readonly cells: readonly string[];
}

/** A hatch held open under a meter, and by how much it shifts the reading, in the meter's own unit. */
export interface Hatch extends Interval {
  readonly shift: number;
}

/** A vehicle other than the bay's own, as one meter sees it. */
export interface Stranger extends Interval {
  readonly reads: number;
  /** The reading is outside the site file's band: the meter does not see the vehicle. */
  readonly outsideBand: boolean;
}

/** After some arrivals somebody opens a hatch under the meter, half a minute to five minutes later. */
export function hatchesOf(seed: number, name: string, sensor: Sensor, truth: Timeline, steps: readonly Step[]): Hatch[] {
  const { hatch } = sensor.faults;
  if (hatch === undefined) return [];
  const random = randomStream(seed, "sensor", name, "hatch");
  return intersection(stretches(truth, ON), heardStretches(steps, truth.end, 1)).flatMap((stay) => {
    const opened = happens(random, hatch.chance);
    const from = stay.from + wholeSecond(uniform(random, 30_000, 300_000));
    const to = Math.min(from + Math.max(10_000, wholeSecond(exponential(random, hatch.mean))), stay.to - 30_000);
    const shift = uniform(random, ...hatch.shift);
    return opened && stay.from > truth.start && from < to ? [{ from, to, shift }] : [];
  });
}

/** The stays of strange vehicles for which the scenario says what this meter reads. */
export function strangersOf(truth: Truth, name: string, sensor: Sensor): Stranger[] {
  if (sensor.kind !== "distance") return [];
  const band = sensor.site.present;
  return truth.strangers.flatMap(({ bay, stay, reads }) => {
    const reading = reads[name];
    if (bay !== sensor.on || reading === undefined) return [];
    const [near, far] = Array.isArray(band) ? band.map(Number) : [];
    return [{ ...stay, reads: reading, outsideBand: near !== undefined && far !== undefined && (reading < near || reading > far) }];
  });
}

/** What the sensor writes at each of its instants. Noise has a stream of its own. */
export function renderReadings(given: {
  readonly scenario: Scenario;
  readonly name: string;
  readonly sensor: Sensor;
  readonly steps: readonly Step[];
  readonly hatches: readonly Hatch[];
  readonly strangers: readonly Stranger[];
  readonly freezes: readonly Interval[];
  readonly instants: Instants;
}): ReadingRow[] {
  const { scenario, sensor, steps } = given;
  const cellsAt = cellWriter(given);
  const freezes = [...given.freezes].sort((a, b) => a.from - b.from);
  const rows: ReadingRow[] = [];
  for (const at of given.instants.times) {
    const fresh = cellsAt(at, stateHeard(steps, at));
    const frozen = holding(freezes, at) === null ? undefined : rows.at(-1)?.cells;
    rows.push({ at, cells: frozen ?? fresh });
  }
  const lostWord = scenario.sources[sensor.source]?.lost[0];
  if (lostWord === undefined || given.instants.lost.length === 0) return rows;
  const cells = sensor.kind === "position" ? [lostWord, lostWord] : [lostWord];
  return [...rows, ...given.instants.lost.map((at) => ({ at, cells }))].sort((a, b) => a.at - b.at);
}

function cellWriter(given: { readonly scenario: Scenario; readonly name: string; readonly sensor: Sensor; readonly hatches: readonly Hatch[]; readonly strangers: readonly Stranger[] }): (at: number, state: 0 | 1) => string[] {
  const { sensor, scenario, name } = given;
  const noise = randomStream(scenario.seed, "sensor", name, "noise");
  if (sensor.kind === "distance") {
    const { reads } = sensor;
    return (at, state) => {
      const error = normal(noise) * reads.noise;
      const vehicle = find(given.strangers, at)?.reads ?? reads.occupied;
      const shift = find(given.hatches, at)?.shift ?? 0;
      const distance = state === ON ? vehicle + shift : reads.empty;
      // Past the maximum no echo comes back, and no reading is negative.
      const seen = reads.maximum !== undefined && distance >= reads.maximum ? reads.maximum : Math.max(10 ** -reads.decimals, distance + error);
      return [Math.min(seen, reads.maximum ?? Infinity).toFixed(reads.decimals)];
    };
  }
  if (sensor.kind === "position") {
    const { reads } = sensor;
    const wander = randomStream(scenario.seed, "sensor", name, "wander");
    return (_at, state) => {
      const metres = Math.abs(state === ON ? normal(noise) * reads.noise_metres : reads.away_metres * uniform(wander, 0.6, 1.6));
      const bearing = uniform(wander, 0, 2 * Math.PI);
      const latitude = reads.latitude + (metres * Math.cos(bearing)) / METRES_PER_DEGREE;
      const longitude = reads.longitude + (metres * Math.sin(bearing)) / (METRES_PER_DEGREE * Math.cos((reads.latitude * Math.PI) / 180));
      return [latitude.toFixed(6), longitude.toFixed(6)];
    };
  }
  const { reads } = sensor;
  return (_at, state) => [state === ON ? reads.on : reads.off];
}

/** Metres of one degree of latitude on a sphere of 6371 km. */
const METRES_PER_DEGREE = (Math.PI / 180) * 6_371_000;

function find<T extends Interval>(intervals: readonly T[], at: number): T | undefined {
  return intervals.find(({ from, to }) => from <= at && at < to);
}
