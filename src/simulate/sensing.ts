import { canonicalTimeline } from "../timeline/make.js";
import { ON, UNKNOWN, type Timeline } from "../timeline/timeline.js";
import { localMoment, occasions, type CauseHistory } from "./causes.js";
import { canonical, heardOf, overridden, stateHeard, type Step } from "./heard.js";
import type { PlantedSignal } from "./planted.js";
import { phantomsOf } from "./phantoms.js";
import { happens, randomStream } from "./random.js";
import { required } from "./required.js";
import { readingInstants, type Instants } from "./reporting.js";
import type { Scenario, Sensor } from "./scenario.js";
import type { Truth } from "./truth.js";
import { hatchesOf, renderReadings, strangersOf, type ReadingRow } from "./values.js";
import { type Interval, union } from "../ground/intervals.js";

/** One sensor's part of the exports, and what was planted in it. */
export interface Sensing {
  readonly readings: readonly ReadingRow[];
  readonly planted: PlantedSignal;
}

/**
 * What one sensor makes of the truth: 1 misses and lags; 2 phantoms and bounces; 3 stuck stretches, frozen causes and
 * what a restart makes it say; 4 when it reports; 5 what it writes then. All draws come from streams named after the
 * sensor, so that a change of one sensor leaves the others alone.
 */
export function senseSubject(scenario: Scenario, name: string, sensor: Sensor, truth: Truth, causes: ReadonlyMap<string, CauseHistory>): Sensing {
  const { faults } = sensor;
  const subject = required(truth.subjects.get(sensor.on), `the truth of ${sensor.on}`);
  const { start, end } = subject;
  const own = sensor.shares.map((cause) => required(causes.get(cause), `the history of ${cause}`));
  const outages = clipped(own.flatMap((cause) => [...cause.outages]), start, end);
  const freezes = clipped(own.flatMap((cause) => [...cause.freezes]), start, end);
  const stuck = clipped(faults.stuck.map((entry) => ({ ...lasting(scenario, entry), state: entry.at === "held" ? null : entry.at === "on" ? (1 as const) : (0 as const) })), start, end);
  const written = clipped(faults.silences.map((entry) => lasting(scenario, entry)), start, end);
  const silences = union([...written, ...occasions(faults.silence, scenario, start, end, "sensor", name, "silence")]);
  const blocked = union([...outages, ...freezes, ...stuck, ...silences]);

  // 1. What reaches the sensor.
  const heard = heardOf(subject, faults, scenario.seed, name);
  const strangers = strangersOf(truth, name, sensor);
  const outsideBand = strangers.filter((stranger) => stranger.outsideBand).map(({ from, to }) => ({ from, to }));

  // 2. What it says without cause.
  const phantomsOn = phantomsOf(scenario, name, sensor, subject, heard.steps, blocked, 1);
  const phantomsOff = phantomsOf(scenario, name, sensor, subject, heard.steps, blocked, 0);
  const spontaneous = overridden(heard.steps, [
    ...phantomsOn.stretches.map((stretch) => ({ ...stretch, state: 1 as const })),
    ...phantomsOff.stretches.map((stretch) => ({ ...stretch, state: 0 as const })),
  ]);
  const { steps: bounced, bounces } = withBounces(spontaneous, faults.bounce, scenario.seed, name);

  // 3. What stuck states, freezes and restarts force it to say.
  const forced = overridden(bounced, [
    ...stuck,
    ...freezes.map((freeze) => ({ ...freeze, state: null })),
    ...outages.filter((outage) => outage.saysOffFirstMs > 0 && "off" in sensor.reads).map((outage) => ({ from: outage.to, to: outage.to + outage.saysOffFirstMs, state: 0 as const })),
  ]).filter(({ at }) => at < end);

  // 4 and 5. When it reports, and what it writes.
  const hatches = hatchesOf(scenario.seed, name, sensor, subject, forced);
  const instants = readingInstants({ scenario, name, sensor, start, end, steps: forced, hatches, silences, outages });
  const readings = renderReadings({ scenario, name, sensor, steps: forced, hatches, strangers, freezes, instants });

  return {
    readings,
    planted: {
      signal: name,
      subject: sensor.on,
      kind: sensor.kind,
      source: sensor.source,
      shares: sensor.shares,
      rates: faults,
      trueOn: subject.states.slice(1).filter((state) => state === ON).length,
      trueOff: subject.states.slice(1).filter((state) => state !== ON).length,
      missedOn: [...heard.missedOn, ...outsideBand].sort((a, b) => a.from - b.from),
      missedOff: heard.missedOff,
      phantomsOn: phantomsOn.stretches,
      phantomsOff: phantomsOff.stretches,
      phantomOnExposureMs: phantomsOn.exposureMs,
      phantomOffExposureMs: phantomsOff.exposureMs,
      lagsOnMs: heard.lagsOnMs,
      lagsOffMs: heard.lagsOffMs,
      bounces,
      hatches,
      stuck: stuck.map(({ from, to }) => ({ from, to })),
      silences,
      restarts: outages.map(({ from, to, cause }) => ({ from, to, cause })),
      freezes,
      dropouts: instants.dropouts,
      readings: readings.length,
      said: saidTimeline(forced, outsideBand, union([...silences, ...outages]), instants, start, end),
    },
  };
}

function lasting(scenario: Scenario, entry: { readonly from: string; readonly for: number }): Interval {
  const from = localMoment(scenario, entry.from);
  return { from, to: from + entry.for };
}

function clipped<T extends Interval>(intervals: readonly T[], start: number, end: number): T[] {
  return intervals.map((interval) => ({ ...interval, from: Math.max(start, interval.from), to: Math.min(end, interval.to) })).filter(({ from, to }) => from < to);
}

/** Some changes go back for one second, one second after they come. */
function withBounces(steps: readonly Step[], chance: number, seed: number, name: string): { steps: readonly Step[]; bounces: number } {
  const random = randomStream(seed, "sensor", name, "bounce");
  const result: Step[] = [];
  let bounces = 0;
  steps.forEach((step, i) => {
    result.push(step);
    const bounced = happens(random, chance);
    if (i === 0 || !bounced || (steps[i + 1]?.at ?? Infinity) - step.at < 10_000) return;
    result.push({ at: step.at + 1_000, state: step.state === 1 ? 0 : 1 }, { at: step.at + 2_000, state: step.state });
    bounces += 1;
  });
  return { steps: result, bounces };
}

/** The state that the sensor reports, from one report to the next; unknown while it is silent. */
function saidTimeline(steps: readonly Step[], outsideBand: readonly Interval[], silent: readonly Interval[], instants: Instants, start: number, end: number): Timeline {
  const shown = overridden(steps, outsideBand.map((stretch) => ({ ...stretch, state: 0 as const })));
  const spoken = instants.times.map((at): Step => ({ at, state: stateHeard(shown, at) }));
  const silentSteps = silent.map(({ from }) => ({ at: from, state: UNKNOWN }));
  const all = [...canonical(spoken), ...silentSteps, ...silent.map(({ to }) => spoken.find(({ at }) => at >= to)).filter((step) => step !== undefined)];
  all.sort((a, b) => a.at - b.at);
  return canonicalTimeline(start, end, all.map(({ at }) => at), all.map(({ state }) => state));
}
