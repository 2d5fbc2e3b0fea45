import { group, max, sum } from "d3-array";
import type { FaultRates } from "../../judge/fooled/fault-rates.js";
import type { SubjectDisagreements } from "./disagreements.js";
import { rateEstimate } from "../../statistics/rate.js";
import { totalMs } from "../../ground/intervals.js";
import { DAYS_PER_YEAR, HOUR_MS, HOURS_PER_DAY } from "../../ground/units.js";
import type { Phantom } from "../../truth/episodes/episode.js";
import type { SignalScore } from "./score.js";

const HOURS_PER_YEAR = DAYS_PER_YEAR * HOURS_PER_DAY;

/**
 * How often each signal lies, from its scores: phantoms and missed turns over the time in which they could be charged
 * to it; and how long a lie lasts.
 *
 * Disagreements that nobody can settle are not in the rate, but in its upper end: there each counts as a lie of this
 * signal, over all time in which it was compared with anything. So a signal with one other witness has no rate (null,
 * never 0), but an upper end. One that was never compared has neither. The upper end is never below the rate. A lie
 * lasts as long as its phantoms on average, or its disagreements, whichever is longer.
 */
export function measuredFaults(
  signals: readonly SignalScore[],
  phantoms: readonly Phantom[],
  disagreements: readonly SubjectDisagreements[],
  confidence: number,
): FaultRates {
  const phantomsOf = group(phantoms, ({ signal }) => signal);
  const pairs = disagreements.flatMap((one) => one.pairs);
  return new Map(
    signals.map((score) => {
      const { charged, disputed } = score.judgedAgainst.jointHours;
      const faults = score.transitions.phantom + score.transitions.missed;
      const own = pairs.filter((pair) => pair.signals.includes(score.signal) && pair.count > 0);
      const differing = sum(own, (pair) => pair.count);
      const rate = rateEstimate(faults, charged / HOURS_PER_YEAR, confidence, "per year");
      const { high } = rateEstimate(faults + differing, (charged + disputed) / HOURS_PER_YEAR, confidence, "per year");
      const lies = phantomsOf.get(score.signal) ?? [];
      const meanPhantomMs = lies.length === 0 ? null : totalMs(lies) / lies.length;
      const meanDifferingMs = differing === 0 ? null : (sum(own, (pair) => pair.hours) * HOUR_MS) / differing;
      const meanMs = max([meanPhantomMs, meanDifferingMs].filter((mean) => mean !== null)) ?? null;
      const { value: missedShare, high: missedShareHigh } = score.missedShare;
      return [
        score.signal,
        { perYear: rate.value, perYearHigh: high === null ? null : Math.max(high, rate.value ?? 0), meanMs, missedShare, missedShareHigh },
      ] as const;
    }),
  );
}
