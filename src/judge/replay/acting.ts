import type { Act } from "../../site/site.js";
import type { Replay } from "./replay.js";
import { letsIn, type Tolerance } from "../rule/prepare.js";
import type { Interval } from "../../ground/intervals.js";

/** What became of one wanted instant, without saying why. */
export interface Serving {
  readonly outcome: "served" | "late" | "missed";
  /** The firing that serves it, in time or late; the one before a rest that swallowed its own; null when missed. */
  readonly firingAt: number | null;
  /** It was the firing before the rest that served: the rule had acted already. */
  readonly byRest: boolean;
  /** The firing whose rest swallowed a rise in time; null when none was swallowed. */
  readonly restedAfter: number | null;
}

/** When a wanted instant counts as served: `earlyMs` before to `withinMs` after, both included. */
export function servingWindow(wantedAt: number, tolerance: Tolerance): Interval {
  return { from: wantedAt - tolerance.earlyMs, to: wantedAt + tolerance.withinMs };
}

/**
 * Looks for the firing that serves the wanted stretch: see `wantedOutcomes` for what counts.
 * Logarithmic in the number of firings but for those inside the window.
 */
export function servingOf(wanted: Interval, acted: Pick<Replay, "firings" | "rises">, act: Act, tolerance: Tolerance): Serving {
  const { from, to } = servingWindow(wanted.from, tolerance);
  const { firings, rises } = acted;
  let nearest: number | null = null;
  let next = firstWhere(firings.length, (i) => firings[i]! >= from);
  for (; next < firings.length && firings[next]! <= to && firings[next]! < wanted.to; next += 1) {
    if (nearest === null || Math.abs(firings[next]! - wanted.from) < Math.abs(nearest - wanted.from)) nearest = firings[next]!;
  }
  if (nearest !== null) return { outcome: "served", firingAt: nearest, byRest: false, restedAfter: null };

  let restedAfter: number | null = null;
  for (let i = firstWhere(rises.length, (at) => rises[at]!.at >= from); restedAfter === null && i < rises.length; i += 1) {
    const rise = rises[i]!;
    if (rise.at > to || rise.at >= wanted.to) break;
    restedAfter = rise.restedAfter;
  }
  if (restedAfter !== null && letsIn(act)) return { outcome: "served", firingAt: restedAfter, byRest: true, restedAfter };

  const late = firings[firstWhere(firings.length, (i) => firings[i]! > to)];
  if (late !== undefined && late < wanted.to) return { outcome: "late", firingAt: late, byRest: false, restedAfter };
  return { outcome: "missed", firingAt: null, byRest: false, restedAfter };
}

/** The smallest index from which on `holds` is true; `count` when it never is. */
function firstWhere(count: number, holds: (index: number) => boolean): number {
  let low = 0;
  let high = count;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (holds(middle)) high = middle;
    else low = middle + 1;
  }
  return low;
}
