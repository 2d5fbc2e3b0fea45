import { instantOf } from "./local-calendar.js";
import { wholeSecond } from "./movements.js";
import { exponential, poissonInstants, randomStream } from "./random.js";
import type { Scenario } from "./scenario.js";
import type { Interval } from "../ground/intervals.js";

/** Milliseconds in the 30 days that rates are given for. */
const THIRTY_DAYS_MS = 30 * 86_400_000;

/** A time in which all sensors of one cause are silent. */
export interface Outage extends Interval {
  readonly cause: string;
  readonly saysLost: boolean;
  readonly saysOffFirstMs: number;
}

/** What happens to one shared cause: when all its sensors are silent, and when all repeat their last reading. */
export interface CauseHistory {
  readonly outages: readonly Outage[];
  readonly freezes: readonly (Interval & { readonly cause: string })[];
}

/** The history of every cause over `[from, to)`: the written restarts and freezes, and the restarts by chance. */
export function causeHistories(scenario: Scenario, from: number, to: number): Map<string, CauseHistory> {
  return new Map(
    Object.entries(scenario.causes).map(([cause, parts]) => {
      const written = parts.restarts.map((restart): Outage => {
        const at = localMoment(scenario, restart.at);
        return { cause, from: at, to: at + restart.for, saysLost: restart.says_lost, saysOffFirstMs: restart.says_off_first ?? 0 };
      });
      const chance = occasions(parts.restart, scenario, from, to, "cause", cause, "restart").map((stretch): Outage => ({ ...stretch, cause, saysLost: false, saysOffFirstMs: 0 }));
      const outages = [...written, ...chance].sort((a, b) => a.from - b.from);
      const freezes = parts.freezes.map((freeze) => {
        const at = localMoment(scenario, freeze.from);
        return { cause, from: at, to: at + freeze.for };
      });
      return [cause, { outages, freezes }];
    }),
  );
}

/** Stretches that begin by chance at a rate per 30 days: exponential lengths of 5 s or more, without overlaps. */
export function occasions(rate: { readonly per_30_days: number; readonly mean: number } | undefined, scenario: Scenario, from: number, to: number, ...name: readonly string[]): Interval[] {
  if (rate === undefined) return [];
  const random = randomStream(scenario.seed, ...name);
  const lengths = randomStream(scenario.seed, ...name, "length");
  const found: Interval[] = [];
  for (const instant of poissonInstants(random, from, to, rate.per_30_days / THIRTY_DAYS_MS)) {
    const at = wholeSecond(instant);
    const length = Math.max(5_000, wholeSecond(exponential(lengths, rate.mean)));
    if (at >= (found.at(-1)?.to ?? -Infinity) && at < to) found.push({ from: at, to: Math.min(to, at + length) });
  }
  return found;
}

/** A local `yyyy-MM-dd HH:mm` of the scenario as an instant. */
export function localMoment(scenario: Scenario, text: string): number {
  const [date = "", time] = text.split(" ");
  return instantOf(scenario.timezone, date, time);
}
