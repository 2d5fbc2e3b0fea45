import type { Phantom } from "./episodes/find.js";
import type { FaultRates } from "./rules/fault-rates.js";
import type { SignalScore } from "./scoring/signals.js";
import { rateEstimate } from "./statistics/rate.js";

const HOURS_PER_YEAR = 365.25 * 24;

/**
 * How often each signal lies, from its scores: phantoms and missed turns over the time in which a reference without it was
 * known, as far as the signal was known itself; and how long, from its phantoms outside all episodes.
 * A signal that could not be scored has no rate: null, never 0.
 */
export function measuredFaults(signals: readonly SignalScore[], phantoms: readonly Phantom[], confidence: number): FaultRates {
  const lasting = new Map<string, number[]>();
  for (const { signal, from, to } of phantoms) lasting.set(signal, [...(lasting.get(signal) ?? []), to - from]);
  return new Map(
    signals.map((score) => {
      const { diary, several, one } = score.judgedAgainst.hours;
      const years = ((diary + several + one) * score.knownShare) / HOURS_PER_YEAR;
      const rate = rateEstimate(score.transitions.phantom + score.transitions.missed, years, confidence, "per year");
      const lengths = lasting.get(score.signal) ?? [];
      const meanMs = lengths.length === 0 ? null : lengths.reduce((sum, ms) => sum + ms, 0) / lengths.length;
      const { value: missedShare, high: missedShareHigh } = score.missedShare;
      return [score.signal, { perYear: rate.value, perYearHigh: rate.high, meanMs, missedShare, missedShareHigh }] as const;
    }),
  );
}
