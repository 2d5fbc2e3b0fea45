import { descending } from "d3-array";
import { type Interval, union } from "../../ground/intervals.js";
import { HOUR_MS, MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import { stretches } from "../../timeline/stretches.js";
import { OFF, ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { walkTogether } from "../../timeline/walk-together.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { Reference } from "../../truth/reference/reference.js";

/** What is shorter is a lag or a hiccup, and could not be seen where an hour is a px high. Our own choice. */
const LEAST_MS = 2 * MINUTE_MS;
/** What is shorter is a gap between two witnesses, no time to wonder about. Our own choice. */
const LEAST_UNCHECKED_MS = HOUR_MS;
/** More of one sort would be a solid strip; the longest are kept. Our own choice. */
const MOST_KEPT = 150;

/** A stretch in which a signal said `said` while most likely the opposite was so. */
export interface Differing extends Interval {
  readonly said: typeof OFF | typeof ON;
}

/** When a signal differed, was silent, and when nothing but itself told the truth. In order of time. */
export interface When {
  readonly differed: readonly Differing[];
  readonly silent: readonly Interval[];
  readonly unchecked: readonly Interval[];
}

/**
 * `likely`: what most likely happened, all witnesses together. `without`: the reference without the signal. Stretches
 * shorter than two minutes are left out (of `unchecked`, than an hour).
 */
export function whenOf({ account, stirring = account }: Pick<SignalAccount, "account" | "stirring">, likely: Timeline, without: Reference): When {
  return {
    differed: differingStretches(account, likely).filter(isLong(LEAST_MS)),
    silent: stretches(stirring, UNKNOWN).filter(isLong(LEAST_MS)),
    unchecked: union(without.segments.filter(({ basis }) => basis === "none")).filter(isLong(LEAST_UNCHECKED_MS)),
  };
}

/** A contradiction goes on through what is unknown on either side for less than an hour: a sensor stuck through ten short silences is stuck once. */
function differingStretches(account: Timeline, likely: Timeline): Differing[] {
  const found: { from: number; to: number; said: typeof OFF | typeof ON }[] = [];
  let open = false;
  walkTogether([account, likely], (from, to, [said, truth]) => {
    if (said === UNKNOWN || truth === UNKNOWN) return;
    const last = found.at(-1);
    if (said === truth) open = false;
    else if (open && last?.said === said && from - last.to < LEAST_UNCHECKED_MS) last.to = to;
    else {
      found.push({ from, to, said });
      open = true;
    }
  });
  return found;
}

function isLong(leastMs: number): (one: Interval) => boolean {
  return ({ from, to }) => to - from >= leastMs;
}

/** The longest stretches, in order of time, in whole seconds since the beginning of the period. */
export function keptStretches(all: readonly Interval[], periodFrom: number): [number, number][] {
  const seconds = (at: number): number => Math.round((at - periodFrom) / SECOND_MS);
  return all
    .toSorted((a, b) => descending(a.to - a.from, b.to - b.from))
    .slice(0, MOST_KEPT)
    .sort((a, b) => a.from - b.from)
    .map(({ from, to }) => [seconds(from), seconds(to)]);
}
