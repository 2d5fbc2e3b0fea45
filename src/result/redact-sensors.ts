import { DAY_MS, HOUR_MS, MINUTE_MS, SECOND_MS } from "../ground/units.js";
import type { Findings } from "./findings.js";
import type { GridClock } from "./redact-clock.js";
import { figures } from "./redact-numbers.js";
import type { SensorFinding, TwinPicture } from "./sensors.js";

type Stretch = readonly [number, number];
type Lane = TwinPicture["own"];

/** All instants that stretches and pictures of sensors tell by seconds since something else. */
export function instantsOfSensors({ sensors = [], period }: Pick<Findings, "sensors" | "period">): number[] {
  const after = (begin: number, seconds: readonly number[]): number[] => seconds.map((one) => begin + one * SECOND_MS);
  const ofLane = (lane: Lane): number[] => [...lane.steps, ...(lane.meter?.readings ?? [])].map(([at]) => at);
  return sensors.flatMap(({ stretches, worst }) => {
    const picture = worst?.picture ?? null;
    const seconds = picture === null ? [] : [...ofLane(picture.own), ...(picture.twin === null ? [] : ofLane(picture.twin)), ...picture.truth.map(([at]) => at)];
    return [...after(period.from, Object.values(stretches).flat(2)), ...(picture === null ? [] : after(picture.from, seconds))];
  });
}

/**
 * The sensors with their stretches and pictures as they lie on days of 24 hours, and lengths that agree with them: else a sensor that was silent
 * over the night of a clock change, or to the end of the period, would tell of it. `real`: the sensors before they were redacted.
 */
export function sensorsOnGrid(redacted: readonly SensorFinding[], real: readonly SensorFinding[], periodFrom: number, clock: GridClock): SensorFinding[] {
  return redacted.map((sensor, i) => {
    const before = real[i] ?? sensor;
    const placed = ([from, to]: Stretch): [number, number] => [since(periodFrom, from, clock), since(periodFrom, to, clock)];
    const { differed, silent, unchecked } = before.stretches;
    const stretches = { differed: differed.map(placed), silent: silent.map(placed), unchecked: unchecked.map(placed) };
    const told = lengthsTold(before, stretches);
    return {
      ...sensor,
      stretches,
      differed: { ...sensor.differed, ...hoursOnGrid(before.differed, before.stretches.differed, stretches.differed, sensor.differed) },
      why: sensor.why.map(told),
      says: sensor.says.map(told),
      worst: sensor.worst === null || before.worst === null ? sensor.worst : { ...sensor.worst, text: told(sensor.worst.text), short: told(sensor.worst.short), picture: pictureOnGrid(sensor.worst.picture, before.worst.picture, clock) },
    };
  });
}

/** The hours of silences of each signal, made to agree with the stretches that are told of it. `sensors`: as they were, in the order of `placed`. */
export function silencesOnGrid(signals: Findings["signals"], real: Findings["signals"], placed: readonly SensorFinding[], sensors: readonly SensorFinding[]): Findings["signals"] {
  return signals.map((signal, i) => {
    const at = placed.findIndex((one) => one.signal === signal.signal);
    const [before, after, whole] = [sensors[at]?.stretches.silent ?? [], placed[at]?.stretches.silent ?? [], real[i]?.silences ?? signal.silences];
    return { ...signal, silences: { ...signal.silences, ...hoursOnGrid(whole, before, after, signal.silences) } };
  });
}

interface Hours {
  readonly hours: number;
  readonly longestHours: number;
}

/** Hours with the difference that the grid makes to the stretches that are listed; as they were redacted where it makes none. */
function hoursOnGrid({ hours, longestHours }: Hours, real: readonly Stretch[], placed: readonly Stretch[], redacted: Hours): Hours {
  const length = ([from, to]: Stretch): number => (to - from) * (SECOND_MS / HOUR_MS);
  const more = placed.reduce((sum, one, i) => sum + length(one) - length(real[i] ?? one), 0);
  if (Math.abs(more) < MINUTE_MS / HOUR_MS) return redacted;
  // The longest are listed; the one that was the longest is known by its length.
  const isLongest = real.findIndex((one) => Math.abs(length(one) - longestHours) < MINUTE_MS / HOUR_MS);
  return { hours: figures(hours + more, 2), longestHours: figures(isLongest < 0 ? longestHours : Math.max(...placed.map(length)), 2) };
}

/** Seconds since an instant, on the grid. */
function since(begin: number, seconds: number, { moved }: GridClock): number {
  return (moved(begin + seconds * SECOND_MS) - moved(begin)) / SECOND_MS;
}

function pictureOnGrid(redacted: TwinPicture | null, real: TwinPicture | null, clock: GridClock): TwinPicture | null {
  if (redacted === null || real === null) return redacted;
  const stepped = (steps: Lane["steps"], before: Lane["steps"]): Lane["steps"] => steps.map(([at, state], i) => [since(real.from, before[i]?.[0] ?? at, clock), state]);
  const lane = (shown: Lane, before: Lane): Lane => ({
    ...shown,
    steps: stepped(shown.steps, before.steps),
    meter: shown.meter === null ? null : { ...shown.meter, readings: shown.meter.readings.map(([at, value], i) => [since(real.from, before.meter?.readings[i]?.[0] ?? at, clock), value]) },
  });
  return { ...redacted, own: lane(redacted.own, real.own), twin: redacted.twin === null ? null : lane(redacted.twin, real.twin ?? redacted.twin), truth: stepped(redacted.truth, real.truth) };
}

/** Whole hours and days in a sensor's sentences, for those of its stretches that the grid makes an hour longer or shorter. */
function lengthsTold(before: SensorFinding, placed: SensorFinding["stretches"]): (text: string) => string {
  const others = new Map<string, string>();
  for (const sort of ["differed", "silent", "unchecked"] as const) {
    before.stretches[sort].forEach(([from, to], i) => {
      const [begin, end] = placed[sort][i] ?? [from, to];
      const [real, onGrid] = [(to - from) * SECOND_MS, (end - begin) * SECOND_MS];
      if (Math.abs(real - onGrid) > MINUTE_MS) for (const [was, is] of spellings(real, onGrid)) others.set(was, is);
    });
  }
  return (text) => [...others].reduce((told, [was, is]) => told.replaceAll(new RegExp(`(?<![\\d.])${was}(?![\\d.])`, "g"), is), text);
}

function spellings(real: number, onGrid: number): [string, string][] {
  const hours = (ms: number): number => Math.round(ms / HOUR_MS);
  return hours(real) === hours(onGrid) || real > 3 * DAY_MS ? [] : [[`${hours(real)} h`, `${hours(onGrid)} h`]];
}

/** Where the first part of the history ends that settings were chosen on: by the same share of the days that are told. */
export function splitOnGrid(splitAt: number, { from, to }: Findings["period"], clock: GridClock): number {
  const [begin, end] = [clock.moved(from), clock.moved(to)];
  return Math.round(begin + ((splitAt - from) / (to - from)) * (end - begin));
}
