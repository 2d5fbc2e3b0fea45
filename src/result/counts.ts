import { z } from "zod";
import { designHistorySchema } from "./design.js";
import { upkeepSchema } from "./upkeep.js";
import { act, amount, confidence, instant, quantity, subjectClass, timeZone, type Shape } from "./values.js";

/** Changed whenever a reader of older counts would misunderstand newer ones. */
export const COUNTS_SCHEMA = "keyworthy/counts/1";

const count = z.int().min(0);

/** What one signal did over a period, in counts and exposures only. */
export const signalCountsSchema = z.object({
  signal: z.string(),
  subject: z.string(),
  subjectClass,
  kind: z.string(),
  model: z.string().nullable(),
  firmware: z.string().nullable(),
  /** Turns of the reference that the signal could be charged with missing, of both directions, and those it did miss. */
  turns: count,
  missedTurns: count,
  /** The same of visits: turns on only. */
  visits: count,
  missedVisits: count,
  /** Phantoms, and the days in which they could be charged: the signal known, and the diary or several others against it. */
  phantoms: count,
  judgedDays: amount,
  /**
   * Disagreements with each signal of the subject that it was left alone with, and the days of that. Absent in older counts, in which both
   * of two signals that differ were charged.
   */
  disagreements: z.array(z.object({ with: z.string(), count, jointDays: amount })).optional(),
  knownDays: amount,
  silences: count,
  silentDays: amount,
  restarts: count,
  flaps: count,
  /** Lags in seconds within arrivals and within departures, smallest first: without their instants they tell nobody's comings and goings. */
  lagsArriving: z.array(quantity),
  lagsLeaving: z.array(quantity),
  /** Of a distance signal: how the site file took it, and one value a stay and an absence, metres, smallest first. Absent in older counts. */
  distances: z
    .object({ unit: z.string(), present: z.object({ nearMetres: quantity, farMetres: quantity, slackMetres: quantity, maximumMetres: quantity.nullable() }), occupied: z.array(quantity), empty: z.array(quantity) })
    .nullable()
    .optional(),
});

const figure = z.object({ value: quantity.nullable(), low: quantity.nullable(), high: quantity.nullable(), count });

/** How far the clocks of two sources were apart over a period, after what the site file corrected. Seconds; no instants. */
export const clockCountsSchema = z.object({
  first: z.string(),
  second: z.string(),
  correctedSeconds: z.tuple([quantity, quantity]),
  readAs: z.tuple([z.string(), z.string()]),
  offset: figure,
  drift: figure,
  /** The differences behind the offset, smallest first, by the pair of signals that made them. */
  pairs: z.array(z.object({ signals: z.tuple([z.string(), z.string()]), seconds: z.array(quantity) })),
});

/** What one rule did over a period, in counts. */
export const ruleCountsSchema = z.object({
  name: z.string(),
  act,
  /** Of the rule, its limits and the signals it uses: equal digests are the same rule. */
  digest: z.string(),
  /** From this period alone. */
  verdict: z.string(),
  /** Years in which the condition was known, and in which it was not. */
  yearsSeen: amount,
  yearsBlind: amount,
  firings: z.object({ count, right: count, wrong: count, unverified: count }),
  wanted: z.object({ count, served: count, late: count, missed: count, verified: count, verifiedFailed: count.default(0) }),
  /** Years in which nobody outside the rule could say whether acting was wanted. Absent in older counts, as is what follows. */
  yearsUnclear: amount.optional(),
  /** Of these, on local days of which more than half was unclear. */
  yearsUnclearDays: amount.optional(),
  covers: z
    .object({
      days: count,
      months: z.array(z.string()),
      weekdays: z.array(count),
      wrongOccasions: z.array(count),
      failureRuns: z.array(count),
      faultsByDay: z.array(count),
      confirmedHours: z.array(amount),
      expectedUnverified: z.object({ firings: amount, wanted: amount }),
      checked: z.array(z.object({ firings: count, drawn: count, wrongDrawn: count, wrong: count, unverified: count })),
      variants: z.int().min(1),
    })
    .optional(),
  /** What its parts did while firing would have been wrong: day numbers and clock times, no dates. Null where it has no two parts. */
  design: designHistorySchema.nullable().optional(),
});

/**
 * A finished audit as counts: what a comparison of months and of bays is made from, and all that is left of a month that
 * was thinned. It holds no instant but the period's own ends, no position and no row of an export.
 * A reader takes no offence at keys it does not know: version 1 may grow.
 */
export const countsSchema = z.object({
  schema: z.literal(COUNTS_SCHEMA),
  made: z.object({ at: instant, by: z.string() }),
  site: z.object({ name: z.string(), timeZone, confidence }),
  period: z.object({ from: instant, to: instant, days: amount, label: z.string() }),
  signals: z.array(signalCountsSchema),
  bays: z.array(z.object({ bay: z.string(), vehicle: z.string().nullable(), arrivals: count, departures: count })),
  rules: z.array(ruleCountsSchema),
  /** Every rule judged on this history so far. Absent in older counts. */
  judged: z.array(z.object({ act, digest: z.string(), settings: count })).optional(),
  /** By day what the sensors did and what it cost the rules. Absent in older counts. */
  upkeep: upkeepSchema.optional(),
  /** The names of the sites that belong to the same round. Absent where one site was audited by itself. */
  round: z.object({ sites: z.array(z.string()) }).optional(),
  /** Absent in older counts. */
  clocks: z.array(clockCountsSchema).optional(),
});

/** {@link countsSchema} as a type. */
export type Counts = Shape<typeof countsSchema>;
/** {@link signalCountsSchema} as a type. */
export type SignalCounts = Shape<typeof signalCountsSchema>;
/** {@link ruleCountsSchema} as a type. */
export type RuleCounts = Shape<typeof ruleCountsSchema>;
/** {@link clockCountsSchema} as a type. */
export type ClockCounts = Shape<typeof clockCountsSchema>;
