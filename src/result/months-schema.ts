import { z } from "zod";
import { instant, share, type Shape } from "./values.js";

/** A figure of one month with its interval; null where nothing could be counted. */
const point = z.strictObject({ value: z.number().nullable(), low: z.number().nullable(), high: z.number().nullable() });

/** What a comparison between this period and the earlier ones is about. */
export const monthMeasures = ["missed visits", "phantoms", "silences", "restarts", "known time", "lag when arriving", "lag when leaving", "reading when occupied", "reading when empty", "clock offset", "clock drift"] as const;

/** One figure of one signal, or of two sources' clocks, this period against all earlier ones together. */
export const changeSchema = z.strictObject({
  /** The signal; of clocks, the source whose stamps are later than those of `against`, or earlier. */
  signal: z.string(),
  against: z.string().nullable(),
  measure: z.enum(monthMeasures),
  unit: z.string(),
  before: z.number().nullable(),
  now: z.number().nullable(),
  pValue: share,
  adjustedPValue: share,
  /** More than chance brings, after allowing for how many comparisons were made, and outside every earlier period. */
  beyondChance: z.boolean(),
  /** In a sentence; null where nothing changed beyond chance. */
  text: z.string().nullable(),
});

/** The earlier results of the same site, and what is different now. */
export const monthsSchema = z.strictObject({
  /** Oldest first. */
  earlier: z.array(z.strictObject({ label: z.string(), from: instant, to: instant, days: z.number() })),
  /** Stretches between them that no result covers. */
  gaps: z.array(z.strictObject({ from: instant, to: instant })),
  /** Results that were found and not used, and why. */
  leftOut: z.array(z.strictObject({ what: z.string(), why: z.string() })),
  /** Every comparison made, those beyond chance first. */
  changes: z.array(changeSchema),
  /** A row a signal, a point a period, the last of which is this one. */
  series: z.array(
    z.strictObject({
      signal: z.string(),
      points: z.array(
        z.strictObject({
          label: z.string(),
          missedShare: point,
          phantomsPer30Days: point,
          silencesPer30Days: point,
          knownShare: share.nullable(),
          lagArrivingSeconds: z.number().nullable(),
          /** Of distance signals: medians over stays and over absences. */
          occupiedMetres: point,
          emptyMetres: point,
        }),
      ),
    }),
  ),
  /** Two sources each: how much later the second's stamps were, before any correction by the site file, and how much that grew a day. */
  clocks: z.array(z.strictObject({ first: z.string(), second: z.string(), points: z.array(z.strictObject({ label: z.string(), offsetSeconds: point, driftSecondsPerDay: point })) })),
  /** What a person changed in the site file since the latest earlier period: bands and clock corrections. No drift. */
  siteFile: z.array(z.string()),
  /** What could not be compared with some earlier period, and why. */
  notCompared: z.array(z.string()),
  /** Rules whose evidence starts anew, in a sentence each. */
  startedAnew: z.array(z.strictObject({ rule: z.string(), text: z.string() })),
});

/** {@link monthsSchema} as a type. */
export type Months = Shape<typeof monthsSchema>;
/** {@link changeSchema} as a type. */
export type Change = Shape<typeof changeSchema>;
