import { sum } from "d3-array";
import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { rateComparisonPValue } from "../../statistics/rate-comparison.js";
import { poissonLimits } from "../../statistics/poisson-limits.js";
import type { BayFaults } from "../../result/signals.js";

/** Fewer bays are not compared: of two, nobody can say which is the odd one. */
const FEWEST_BAYS = 3;

/** A bay's faults and the three things they can happen in. */
export interface FaultRecord {
  /** Missed turns of the bay's signals, and the turns they could have missed. */
  readonly missed: number;
  readonly turns: number;
  /**
   * Phantoms of the bay's signals, and the signal-time in which there could have been one (any unit, the same for all).
   */
  readonly phantoms: number;
  readonly exposure: number;
  /**
   * Disagreements of two of the bay's signals that nobody can settle, and the pair-time in which there could have been
   * one.
   */
  readonly differing: number;
  readonly pairExposure: number;
}

/**
 * Compares each bay's count of faults with the rate of all others, in the order given.
 *
 * A bay's exposure is what its turns and its time would bring at the rates of all bays together (indirect
 * standardisation): a busy bay may miss more turns without being worse. Expected = the others' faults per exposure ×
 * own exposure; control limits are Poisson quantiles; the p-value compares the two rates exactly and is adjusted over
 * all bays compared, so that thirty bays give no false alarm by chance. A bay stands out when its adjusted p-value is
 * below 1 − confidence and it has more faults than expected. Bays that were never watched are left out; with fewer than
 * {@link FEWEST_BAYS} all figures but the count are null.
 */
export function compareFaults(records: readonly FaultRecord[], confidence: number): BayFaults[] {
  const watched = records.filter(isWatched);
  const alone = (record: FaultRecord): BayFaults => ({
    count: faultsOf(record),
    expected: null,
    controlLow: null,
    controlHigh: null,
    pValue: null,
    adjustedPValue: null,
    standsOut: false,
  });
  if (watched.length < FEWEST_BAYS) return records.map(alone);

  const total = (read: (record: FaultRecord) => number): number => sum(watched, read);
  const rate = (count: number, among: number): number => (among === 0 ? 0 : count / among);
  const missedPerTurn = rate(
    total((one) => one.missed),
    total((one) => one.turns),
  );
  const phantomsPerExposure = rate(
    total((one) => one.phantoms),
    total((one) => one.exposure),
  );
  const differingPerExposure = rate(
    total((one) => one.differing),
    total((one) => one.pairExposure),
  );
  const standardised = (record: FaultRecord): number =>
    missedPerTurn * record.turns + phantomsPerExposure * record.exposure + differingPerExposure * record.pairExposure;
  const faults = total(faultsOf);
  const exposure = total(standardised);

  const compared = watched.map((record) => {
    const others = { faults: faults - faultsOf(record), exposure: Math.max(0, exposure - standardised(record)) };
    // Others without a fault may have no exposure either (nothing to standardise by): 0, not 0/0.
    const expected = others.faults === 0 ? 0 : (others.faults / others.exposure) * standardised(record);
    return { record, expected, pValue: rateComparisonPValue(faultsOf(record), standardised(record), others.faults, others.exposure) };
  });
  const adjusted = adjustPValues(compared.map((one) => one.pValue));
  const verdicts = new Map(
    compared.map(({ record, expected, pValue }, i) => {
      const { low, high } = poissonLimits(expected, confidence);
      // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- every comparison has its adjusted p
      const adjustedPValue = adjusted[i]!;
      const standsOut = adjustedPValue < 1 - confidence && faultsOf(record) > expected;
      return [record, { count: faultsOf(record), expected, controlLow: low, controlHigh: high, pValue, adjustedPValue, standsOut }];
    }),
  );
  return records.map((record) => verdicts.get(record) ?? alone(record));
}

function faultsOf(record: FaultRecord): number {
  return record.missed + record.phantoms + record.differing;
}

function isWatched(record: FaultRecord): boolean {
  return record.turns > 0 || record.exposure > 0 || record.pairExposure > 0;
}
