import { bisector } from "d3-array";
import { OFF, ON, type Timeline, type TruthState } from "../timeline/timeline.js";
import { wholeSecond } from "./movements.js";
import { exponential, happens, normal, randomStream, type Random } from "./random.js";
import { required } from "./required.js";
import type { Sensor } from "./scenario.js";
import type { Interval } from "../ground/intervals.js";

/** A change of what a sensor takes its subject's state to be. */
export interface Step {
  readonly at: number;
  readonly state: 0 | 1;
}

/** The part of the truth that reaches a sensor, and the part that does not. */
export interface Heard {
  /** In order; the first stands at the start of the exports. States alternate. */
  readonly steps: readonly Step[];
  readonly missedOn: readonly Interval[];
  readonly missedOff: readonly Interval[];
  readonly lagsOnMs: readonly number[];
  readonly lagsOffMs: readonly number[];
}

type Lag = Sensor["faults"]["lag"]["on"];

/**
 * How the truth reaches a sensor: some stretches are not noticed at all, and each transition comes with its lag.
 * A stretch shorter than the difference of the lags at its two ends is swallowed, and counts as missed.
 * `seed` and `name` pick the sensor's own streams: misses, lags on and lags off each have one.
 */
export function heardOf(truth: Timeline, faults: Sensor["faults"], seed: number, name: string): Heard {
  const misses = randomStream(seed, "sensor", name, "miss");
  const lags = { on: randomStream(seed, "sensor", name, "lag-on"), off: randomStream(seed, "sensor", name, "lag-off") };
  const missed: (Interval & { state: TruthState })[] = [];
  const steps: (Step & { lagMs: number; trueAt: number })[] = [];
  for (const [i, at] of truth.times.entries()) {
    const state: 0 | 1 = truth.states[i] === ON ? ON : OFF;
    const to = truth.times[i + 1] ?? truth.end;
    // One draw a stretch, needed or not, so that the draws of later stretches stay where they are.
    const unnoticed = happens(misses, state === ON ? faults.miss : faults.miss_off);
    const last = steps.at(-1);
    if (last === undefined) {
      steps.push({ at, state, lagMs: 0, trueAt: at });
      continue;
    }
    const lagMs = state === ON ? lagOf(lags.on, faults.lag.on) : lagOf(lags.off, faults.lag.off);
    // After a missed stretch nothing has changed for the sensor.
    if (last.state === state) continue;
    if (unnoticed) missed.push({ from: at, to, state });
    else if (steps.length > 1 && last.at >= at + lagMs) {
      // The end of the stretch arrives before its beginning: the sensor hears neither.
      missed.push({ from: last.trueAt, to: at, state: last.state });
      steps.pop();
    } else steps.push({ at: at + lagMs, state, lagMs, trueAt: at });
  }
  const later = steps.slice(1).filter(({ at }) => at < truth.end);
  return {
    steps: [...steps.slice(0, 1), ...later].map(({ at, state }) => ({ at, state })),
    missedOn: missed.filter(({ state }) => state === ON).map(({ from, to }) => ({ from, to })),
    missedOff: missed.filter(({ state }) => state === OFF).map(({ from, to }) => ({ from, to })),
    lagsOnMs: later.filter(({ state }) => state === ON).map(({ lagMs }) => lagMs),
    lagsOffMs: later.filter(({ state }) => state === OFF).map(({ lagMs }) => lagMs),
  };
}

/** Log-normal about the median, sometimes with an exponential tail on top; whole seconds. Always four draws. */
function lagOf(random: Random, lag: Lag): number {
  const body = normal(random);
  const inTail = random();
  const tail = exponential(random, 1);
  if (lag === undefined) return 0;
  const extra = lag.tail !== undefined && inTail < lag.tail.chance ? tail * lag.tail.mean : 0;
  return wholeSecond(lag.median * Math.exp(lag.spread * body) + extra);
}

/** The steps as disjoint stretches of each state until `end`. */
export function heardStretches(steps: readonly Step[], end: number, state: 0 | 1): Interval[] {
  return steps.map((step, i) => ({ from: step.at, to: steps[i + 1]?.at ?? end, state: step.state })).filter((stretch) => stretch.state === state && stretch.from < stretch.to);
}

const byInstant = bisector(({ at }: Step) => at);

/** The state at `instant`: of the last step at or before it, or of the first. Binary search. */
export function stateHeard(steps: readonly Step[], instant: number): 0 | 1 {
  const step = steps[Math.max(0, byInstant.right(steps, instant) - 1)];
  return required(step, "a first step").state;
}

/**
 * The steps with each interval overridden by a state (`null`: whatever held at its beginning). Later overrides win.
 */
export function overridden(steps: readonly Step[], overrides: readonly (Interval & { readonly state: 0 | 1 | null })[]): Step[] {
  let result = [...steps];
  for (const { from, to, state } of overrides) {
    const held = state ?? stateHeard(result, from);
    const after = stateHeard(result, to);
    result = canonical([...result.filter(({ at }) => at < from), { at: from, state: held }, { at: to, state: after }, ...result.filter(({ at }) => at > to)]);
  }
  return result;
}

/** Without steps that change nothing. */
export function canonical(steps: readonly Step[]): Step[] {
  return steps.filter((step, i) => step.state !== steps[i - 1]?.state);
}
