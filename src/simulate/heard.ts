import { OFF, ON, type Timeline, type TruthState } from "../timeline/timeline.js";
import { wholeSecond } from "./movements.js";
import { exponential, happens, normal, randomStream, type Random } from "./random.js";
import type { Sensor } from "./scenario.js";
import type { Interval } from "../ground/intervals.js";

/** A change of what a sensor takes its subject's state to be. */
export interface Step {
  readonly at: number;
  readonly state: 0 | 1;
}

/** What reached the sensor, and what of the truth never did. */
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
  for (let i = 0; i < truth.times.length; i += 1) {
    const at = truth.times[i]!;
    const state: 0 | 1 = truth.states[i] === ON ? ON : OFF;
    const to = truth.times[i + 1] ?? truth.end;
    // One draw a stretch, needed or not, so that the draws of later stretches stay where they are.
    const unnoticed = happens(misses, state === ON ? faults.miss : faults.miss_off);
    if (i === 0) {
      steps.push({ at, state, lagMs: 0, trueAt: at });
      continue;
    }
    const lagMs = state === ON ? lagOf(lags.on, faults.lag.on) : lagOf(lags.off, faults.lag.off);
    const last = steps.at(-1)!;
    // After a stretch that was not noticed there is no change to notice.
    if (last.state === state) continue;
    if (unnoticed) missed.push({ from: at, to, state });
    else if (steps.length > 1 && last.at >= at + lagMs) {
      // The news of the end overtakes the news of the beginning: neither is heard.
      missed.push({ from: last.trueAt, to: at, state: last.state });
      steps.pop();
    } else steps.push({ at: at + lagMs, state, lagMs, trueAt: at });
  }
  const later = steps.slice(1).filter(({ at }) => at < truth.end);
  return {
    steps: [steps[0]!, ...later].map(({ at, state }) => ({ at, state })),
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

/** The state that holds at `instant`: of the last step at or before it. Binary search. */
export function stateHeard(steps: readonly Step[], instant: number): 0 | 1 {
  let low = 0;
  let high = steps.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (steps[middle]!.at <= instant) low = middle + 1;
    else high = middle;
  }
  return steps[Math.max(0, low - 1)]!.state;
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
  return steps.filter((step, i) => i === 0 || step.state !== steps[i - 1]!.state);
}
