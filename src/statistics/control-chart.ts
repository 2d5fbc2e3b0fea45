import { pairs, sum } from "d3-array";

/** A chart of single values: its centre, its limits, and where it alarms. */
export interface IndividualsChart {
  readonly centre: number;
  readonly low: number;
  readonly high: number;
  /** Indices of values beyond the limits. */
  readonly outside: readonly number[];
  /** Indices of values that end a run of at least {@link RUN_LENGTH} on one side of the centre. */
  readonly runs: readonly number[];
}

/** The mean range of two independent normal values, in standard deviations (d₂ of the control-chart tables). */
const MEAN_RANGE_OF_TWO = 1.128;
/** Distance of the limits from the centre, in standard deviations. */
const LIMIT_DEVIATIONS = 3;
/** Values in a row on one side of the centre that raise an alarm, as in the Western Electric rules. */
const RUN_LENGTH = 8;

/**
 * A chart for individual values. The centre is the mean; the limits are three standard deviations away, each the mean
 * moving range divided by 1.128 (Shewhart; NIST/SEMATECH handbook, 6.3.2.2). A run of eight on one side alarms too
 * (Western Electric handbook, 1956). All from memory, texts not seen. On independent normal values with known limits it
 * gives one false alarm in about 153 values (Champ & Woodall 1987, from memory; recomputed). Null with fewer than two
 * values.
 */
export function individualsChart(values: readonly number[]): IndividualsChart | null {
  if (values.length < 2) return null;
  const centre = sum(values) / values.length;
  const ranges = pairs(values, (one, next) => Math.abs(next - one));
  const deviation = sum(ranges) / ranges.length / MEAN_RANGE_OF_TWO;
  const [low, high] = [centre - LIMIT_DEVIATIONS * deviation, centre + LIMIT_DEVIATIONS * deviation];
  let side = 0;
  let length = 0;
  const runs = values.flatMap((value, i) => {
    const now = Math.sign(value - centre);
    length = now !== 0 && now === side ? length + 1 : 1;
    side = now;
    return now !== 0 && length >= RUN_LENGTH ? [i] : [];
  });
  return { centre, low, high, outside: values.flatMap((value, i) => (value < low || value > high ? [i] : [])), runs };
}
