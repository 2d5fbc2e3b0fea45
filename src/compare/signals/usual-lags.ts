import { SECOND_MS } from "../../ground/units.js";
import type { SignalLags } from "../../judge/gap/gap.js";
import type { SignalScore } from "../../result/signals.js";

/** With fewer turns than this nobody knows how late a signal usually is. Our own choice. */
const LEAST_TURNS = 10;

/**
 * How late each signal usually tells: nineteen times in twenty no later than this, by the upper end of the interval
 * where there is one. Later reports count as false. Signals with fewer than ten turns to go by are left out.
 */
export function usualLags(signals: readonly SignalScore[]): SignalLags {
  return new Map(
    signals.flatMap(({ signal, lagOn, lagOff }) => {
      const measured = [lagOn, lagOff].filter(({ p95 }) => p95.value !== null && p95.count >= LEAST_TURNS);
      if (measured.length === 0) return [];
      const most = Math.max(0, ...measured.map(({ p95 }) => p95.high ?? p95.value ?? 0));
      const least = Math.min(0, ...measured.map(({ median }) => median.low ?? median.value ?? 0));
      return [[signal, { leastMs: least * SECOND_MS, mostMs: most * SECOND_MS }] as const];
    }),
  );
}
