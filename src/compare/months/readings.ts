import { temperatureShare } from "../../truth/bands/suggest.js";
import type { SignalCounts } from "../../result/counts.js";
import { medianOf } from "../../statistics/median.js";
import { medians, type Compared } from "./compared.js";

/**
 * Smaller shifts of a reading are never reported: the springs, a tyre, another place to park. Our own choice, the same
 * as within a period.
 */
const LEAST_SHIFT_METRES = 0.01;

/**
 * Where a distance signal's readings rest while the bay is occupied, and while it is empty: this period against earlier
 * ones, by the median test, one value per stay or absence (see `looksOf`: readings within a stay are not independent).
 * The values are what the meter read, whatever band the site file had: a band that a person changed is no drift.
 *
 * In cold air an echo meter reads the same distance some per cent too long, so months differ without a fault of the
 * meter. A shift is reported only if it is larger than air 20 °C colder or warmer causes, and than a centimetre. Our
 * own choice: a smaller one is in the table of comparisons only.
 */
export function readingComparisons(now: SignalCounts, before: readonly SignalCounts[]): Compared[] {
  const comparable = before.filter((was) => readingsBarrier(now, was) === null);
  if (now.distances === undefined || now.distances === null) return [];
  const of = (measure: Compared["measure"], side: "occupied" | "empty"): Compared => {
    const earlier = comparable.map((was) => was.distances?.[side] ?? []);
    const least = Math.max(LEAST_SHIFT_METRES, temperatureShare() * (medianOf(earlier.flat()) ?? 0));
    return medians({ signal: now.signal, against: null, measure, unit: "metres", least }, now.distances?.[side] ?? [], earlier);
  };
  return [of("reading when occupied", "occupied"), of("reading when empty", "empty")];
}

/**
 * Why the readings of an earlier period cannot be compared with this one's, as the end of a sentence; null if they can,
 * or there are none.
 */
export function readingsBarrier(now: SignalCounts, was: SignalCounts): string | null {
  if (now.distances === undefined || now.distances === null) return null;
  if (was.distances === undefined) return "that older result kept none";
  if (was.distances === null) return null;
  if (was.distances.unit !== now.distances.unit)
    return `the site file gave their unit as “${was.distances.unit}” then and gives “${now.distances.unit}” now`;
  const [maximum, wasMaximum] = [now.distances.present.maximumMetres, was.distances.present.maximumMetres];
  return maximum === wasMaximum ? null : "the site file had another maximum then, so other readings counted as no echo";
}
