import type { Timeline, Turn } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";
import type { CompareSettings } from "./compare-settings.js";
import type { Interval } from "../../ground/intervals.js";

/**
 * The turns of a *reference* to a state. A gap between its two known states is bridged up to `joinMs`, further than in a
 * signal: a signal that comes back after a gap saw no change, but when the best account was surely off before the gap and is
 * surely on after it, the change did happen in it. Two witnesses of which one lags three minutes leave such a gap at every
 * arrival. Beyond `joinMs` the instant would be vaguer than the window in which turns are matched, and nothing is claimed.
 * Nor is anything across `barriers`: restarts in which no witness was left, where whatever returns returns at once.
 */
export function referenceTurns(reference: Timeline, to: 0 | 1, settings: CompareSettings, barriers: readonly Interval[] = []): Turn[] {
  return turned(reference, to, { bridgeMs: Math.max(settings.bridgeMs, settings.joinMs), barriers });
}
