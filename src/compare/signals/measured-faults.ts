import type { Phantom } from "../../truth/episodes/find.js";
import type { FaultRates } from "../../judge/fooled/fault-rates.js";
import type { SubjectDisagreements } from "./disagreements.js";
import type { SignalScore } from "./signals.js";
import { rateEstimate } from "../../statistics/rate.js";
import { HOUR_MS } from "../../ground/units.js";

const HOURS_PER_YEAR = 365.25 * 24;

/**
 * How often each signal lies, from its scores: phantoms and missed turns over the time in which they could be charged to it, the signal
 * being known itself; and how long a lie lasts.
 *
 * What nobody can charge to one of two signals is no part of the rate, but of its upper end: there every disagreement with another
 * signal is taken as a lie of this one, over all time in which it was compared with anything. So a signal with one other witness has no rate
 * (null, never 0), and still an upper end. One that was never compared has neither. The upper end is never below the rate. A lie lasts as
 * long as its phantoms on average, or its disagreements, whichever is longer.
 */
export function measuredFaults(signals: readonly SignalScore[], phantoms: readonly Phantom[], disagreements: readonly SubjectDisagreements[], confidence: number): FaultRates {
  const lasting = new Map<string, number[]>();
  for (const { signal, from, to } of phantoms) lasting.set(signal, [...(lasting.get(signal) ?? []), to - from]);
  const pairs = disagreements.flatMap((one) => one.pairs);
  return new Map(
    signals.map((score) => {
      const { charged, disputed } = score.judgedAgainst.jointHours;
      const faults = score.transitions.phantom + score.transitions.missed;
      const own = pairs.filter((pair) => pair.signals.includes(score.signal) && pair.count > 0);
      const differing = own.reduce((sum, pair) => sum + pair.count, 0);
      const rate = rateEstimate(faults, charged / HOURS_PER_YEAR, confidence, "per year");
      const { high } = rateEstimate(faults + differing, (charged + disputed) / HOURS_PER_YEAR, confidence, "per year");
      const lengths = lasting.get(score.signal) ?? [];
      const means = [
        ...(lengths.length === 0 ? [] : [lengths.reduce((sum, ms) => sum + ms, 0) / lengths.length]),
        ...(differing === 0 ? [] : [(own.reduce((sum, pair) => sum + pair.hours, 0) * HOUR_MS) / differing]),
      ];
      const meanMs = means.length === 0 ? null : Math.max(...means);
      const { value: missedShare, high: missedShareHigh } = score.missedShare;
      return [score.signal, { perYear: rate.value, perYearHigh: high === null ? null : Math.max(high, rate.value ?? 0), meanMs, missedShare, missedShareHigh }] as const;
    }),
  );
}
