import { z } from "zod";
import { estimateSchema } from "./estimate.js";
import { eventCategoriesSchema } from "./witnesses.js";
import { share, subjectClass, type Shape } from "./values.js";

const lagQuantiles = z.strictObject({ median: estimateSchema, p90: estimateSchema, p95: estimateSchema });

/** One signal judged against a reference built without it. */
export const signalScoreSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  subjectClass,
  kind: z.string(),
  source: z.string(),
  model: z.string().nullable(),
  /** A note of the site file's. */
  firmware: z.string().nullable(),
  shares: z.array(z.string()),
  readings: z.int(),
  /** Who the signal was judged against: hours of the period by basis, and the other witnesses' names. */
  judgedAgainst: z.strictObject({
    hours: z.strictObject({ diary: z.number(), several: z.number(), one: z.number(), none: z.number() }),
    /** Hours in which the signal was known too: where faults are charged to it (diary, several), and where only one other witness spoke. */
    jointHours: z.strictObject({ charged: z.number(), disputed: z.number() }),
    witnesses: z.array(z.string()),
  }),
  agreement: estimateSchema,
  agreementGivenOn: estimateSchema,
  agreementGivenOff: estimateSchema,
  /** `judged`: the turns that it could be charged with missing. */
  transitions: z.strictObject({ reference: z.int(), matched: z.int(), judged: z.int(), missed: z.int(), phantom: z.int(), fragmented: z.int() }),
  eventCategories: eventCategoriesSchema,
  missedShare: estimateSchema,
  phantomRate: estimateSchema,
  lagOn: lagQuantiles,
  lagOff: lagQuantiles,
  knownShare: share,
  silences: z.strictObject({ count: z.int(), hours: z.number(), longestHours: z.number() }),
  restarts: z.int(),
  flaps: z.int(),
  siblings: z.array(z.strictObject({ signal: z.string(), agreement: estimateSchema, kappa: estimateSchema, sharedCauses: z.array(z.string()) })),
});

/** One bay among its fellows. */
export const bayScoreSchema = z.strictObject({
  bay: z.string(),
  vehicle: z.string().nullable(),
  arrivals: z.int(),
  departures: z.int(),
  /** Share of the time at which the reference knew; null where it never did. */
  occupiedShare: share.nullable(),
  signals: z.array(z.string()),
  missedShare: estimateSchema,
  phantomRate: estimateSchema,
  agreement: estimateSchema,
  /** Mean of its signals' known shares; 0 without signals. */
  knownShare: share,
  /** Faults (missed and phantom transitions, and disagreements of two signals) against what the other bays' rate leads one to expect. */
  faults: z.strictObject({
    count: z.int(),
    expected: z.number().nullable(),
    controlLow: z.number().nullable(),
    controlHigh: z.number().nullable(),
    pValue: share.nullable(),
    adjustedPValue: share.nullable(),
    standsOut: z.boolean(),
  }),
});


/** {@link signalScoreSchema} as a type. */
export type SignalScore = Shape<typeof signalScoreSchema>;
/** {@link bayScoreSchema} as a type. */
export type BayScore = Shape<typeof bayScoreSchema>;
/** How late a signal turns. */
export type LagQuantiles = Shape<typeof lagQuantiles>;
/**
 * How a signal's turns stand against the reference's, both directions together. `reference`: all turns of the reference.
 * `matched`: those with a turn of the signal within `joinMs`, at most one each. `judged`: those matched or watched for
 * which the diary or several others vouch. `missed`: of these, those without a turn of the signal although it was known
 * all around; blind time is no miss. `phantom`: false stretches by the word of the diary or several others, each once.
 * `fragmented`: extra pairs of turns, a false "off" that broke a visit in two (a phantom too) or a bounce at a turn.
 */
export type TransitionCounts = SignalScore["transitions"];
/** Another signal of the same subject. */
export type Sibling = SignalScore["siblings"][number];
/** Who a signal was judged against. */
export type JudgedAgainst = SignalScore["judgedAgainst"];
/** A bay's faults among those of its fellows. */
export type BayFaults = BayScore["faults"];
