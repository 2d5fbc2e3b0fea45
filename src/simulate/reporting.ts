import type { Outage } from "./causes.js";
import type { Step } from "./heard.js";
import { wholeSecond } from "./movements.js";
import { happens, randomStream, uniform } from "./random.js";
import type { Scenario, Sensor } from "./scenario.js";
import { holding, type Interval, union } from "../ground/intervals.js";

/** When a sensor reports: whole seconds, in order, each once. */
export interface Instants {
  readonly times: readonly number[];
  /** Instants at which only the source's `lost` word is written: the link goes down. */
  readonly lost: readonly number[];
  /** Periodic readings that were lost on the way. */
  readonly dropouts: number;
}

/** A periodic reading comes up to this much later than planned. */
const TICK_JITTER_MS = 2_000;
/** After an outage each sensor needs a few seconds to report. */
const RETURN_SPREAD_MS = 12_000;

/**
 * When a sensor reports: at the start of the exports, at its interval, at each change (if `on_change`), and when it is
 * back after a silence or a restart. Within a silence it reports nothing; on return it reports its state.
 */
export function readingInstants(given: {
  readonly scenario: Scenario;
  readonly name: string;
  readonly sensor: Sensor;
  readonly start: number;
  readonly end: number;
  readonly steps: readonly Step[];
  readonly hatches: readonly Interval[];
  readonly silences: readonly Interval[];
  readonly outages: readonly Outage[];
}): Instants {
  const { scenario, name, sensor, start, end } = given;
  const stream = (part: string): (() => number) => randomStream(scenario.seed, "sensor", name, part);
  const silent = union([...given.silences, ...given.outages]);
  const times = new Set<number>();
  const say = (at: number): void => {
    if (at >= start && at < end && holding(silent, at) === null) times.add(wholeSecond(at));
  };
  say(start);
  let dropouts = 0;
  if (sensor.every !== undefined) {
    const ticks = stream("ticks");
    const losses = stream("dropout");
    for (let at = start + uniform(ticks, 0, sensor.every); at < end; at += sensor.every) {
      const instant = wholeSecond(at + uniform(ticks, 0, TICK_JITTER_MS));
      const lost = happens(losses, sensor.faults.dropout);
      if (!lost) say(instant);
      else if (holding(silent, instant) === null) dropouts += 1;
    }
  }
  if (sensor.on_change) {
    for (const { at } of given.steps) say(at);
    for (const { from, to } of given.hatches) [from, to].forEach(say);
  }
  const returns = stream("returns");
  for (const { to } of silent) say(wholeSecond(to + uniform(returns, 0, RETURN_SPREAD_MS)));
  const hasLostWord = (scenario.sources[sensor.source]?.lost.length ?? 0) > 0;
  const lost = given.outages.filter(({ saysLost, from }) => saysLost && hasLostWord && from > start).map(({ from }) => from);
  return { times: [...times].sort((a, b) => a - b), lost, dropouts };
}
