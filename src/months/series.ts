import type { Counts, SignalCounts } from "../findings/counts-schema.js";
import type { Months } from "../findings/months-schema.js";
import type { Estimate } from "../statistics/estimate.js";
import { medianOf } from "../statistics/median.js";
import { rateEstimate } from "../statistics/rate.js";
import { shareEstimate } from "../statistics/share.js";

type Row = Months["series"][number];
type Point = Row["points"][number];

const SPAN_DAYS = 30;
const nothing = { value: null, low: null, high: null };

/** Each signal of this period with its figures over all periods given, oldest first. A period that did not know the signal has an empty point. */
export function seriesOf(now: Counts, earlier: readonly Counts[]): Row[] {
  const { confidence } = now.site;
  return now.signals.map(({ signal }) => ({
    signal,
    points: [...earlier, now].map((counts) => point(counts, counts.signals.find((one) => one.signal === signal), confidence)),
  }));
}

function point({ period }: Counts, one: SignalCounts | undefined, confidence: number): Point {
  if (one === undefined) return { label: period.label, missedShare: nothing, phantomsPer30Days: nothing, silencesPer30Days: nothing, knownShare: null, lagArrivingSeconds: null };
  return {
    label: period.label,
    missedShare: ends(shareEstimate(one.missedVisits, one.visits, confidence)),
    phantomsPer30Days: ends(rateEstimate(one.phantoms, one.judgedDays / SPAN_DAYS, confidence, "per 30 days")),
    silencesPer30Days: ends(rateEstimate(one.silences, period.days / SPAN_DAYS, confidence, "per 30 days")),
    knownShare: period.days === 0 ? null : Math.min(1, one.knownDays / period.days),
    lagArrivingSeconds: medianOf(one.lagsArriving),
  };
}

function ends({ value, low, high }: Estimate): Point["missedShare"] {
  return { value, low, high };
}
