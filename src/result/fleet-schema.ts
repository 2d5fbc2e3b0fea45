import { z } from "zod";
import { instant, share, subjectClass, type Shape } from "./values.js";

/** Changed whenever a reader of older fleet results would misunderstand newer ones. */
export const FLEET_SCHEMA = "keyworthy/fleet/1";


/** One count of a bay, signal, model or firmware against its fellows; see `compareGroups`. */
export const standingSchema = z.strictObject({
  count: z.int(),
  expected: z.number().nullable(),
  controlLow: z.number().nullable(),
  controlHigh: z.number().nullable(),
  pooledRatio: z.number().nullable(),
  pooledLow: z.number().nullable(),
  pooledHigh: z.number().nullable(),
  pValue: share.nullable(),
  adjustedPValue: share.nullable(),
  /** More than its fellows lead one to expect, after allowing for how many were compared. */
  standsOut: z.boolean(),
});

/** `faults`: missed turns and phantoms, and of a bay the disagreements of its pairs, each once; `silences`: stretches without a word. */
const compared = { faults: standingSchema, silences: standingSchema };
const use = {
  days: z.number(),
  knownShare: share,
  turns: z.int(),
  missedTurns: z.int(),
  phantoms: z.int(),
  judgedDays: z.number(),
  ...compared,
};

/** One bay of the fleet, its signals together. Days are signal-days. */
export const fleetBaySchema = z.strictObject({ site: z.string(), bay: z.string(), vehicle: z.string().nullable(), arrivals: z.int(), departures: z.int(), signals: z.array(z.string()), ...use });

/** One signal of the fleet. */
export const fleetSignalSchema = z.strictObject({
  site: z.string(),
  signal: z.string(),
  subject: z.string(),
  subjectClass,
  kind: z.string(),
  model: z.string().nullable(),
  firmware: z.string().nullable(),
  ...use,
});

/**
 * Two signals of one subject that nobody could judge between for `days`: how often they disagreed then, against other pairs of the same
 * kinds. `lookFirst`: the one of the two of which something else speaks too.
 */
export const fleetPairSchema = z.strictObject({
  site: z.string(),
  subject: z.string(),
  signals: z.tuple([z.string(), z.string()]),
  days: z.number(),
  disagreements: standingSchema,
  lookFirst: z.strictObject({ signal: z.string(), why: z.string() }).nullable(),
});

/** All signals of one model, or of one firmware of a model, against the other signals of the same kind, or the same model. */
export const fleetMakeSchema = z.strictObject({ kind: z.string(), model: z.string(), firmware: z.string().nullable(), signals: z.int(), sites: z.int(), ...use });

/** One place on the list of where to send someone first. */
export const visitSchema = z.strictObject({
  site: z.string(),
  subject: z.string(),
  reasons: z.array(z.string()),
  /** Faults and silences in 30 days beyond what its fellows lead one to expect, and days in 30 in which a signal was dark. */
  weight: z.number(),
});

/** A fleet result: finished audits of many sites and months, compared. */
export const fleetSchema = z.strictObject({
  schema: z.literal(FLEET_SCHEMA),
  made: z.strictObject({ at: instant, by: z.string() }),
  confidence: z.number(),
  /** The audits it is made from, by site and time. `digest`: of their counts without the time of making. */
  parts: z.array(
    z.strictObject({
      site: z.string(),
      timeZone: z.string(),
      period: z.strictObject({ from: instant, to: instant, days: z.number(), label: z.string() }),
      digest: z.string(),
      rules: z.array(z.strictObject({ name: z.string(), act: z.string(), verdict: z.string() })),
    }),
  ),
  /** Parts that were asked for and are not in it, and why. */
  leftOut: z.array(z.strictObject({ what: z.string(), why: z.string() })),
  sendFirst: z.array(visitSchema),
  bays: z.array(fleetBaySchema),
  signals: z.array(fleetSignalSchema),
  pairs: z.array(fleetPairSchema),
  models: z.array(fleetMakeSchema),
  firmwares: z.array(fleetMakeSchema),
  notes: z.array(z.string()),
});

/** {@link fleetSchema} as a type. */
export type Fleet = Shape<typeof fleetSchema>;
/** {@link standingSchema} as a type. */
export type FleetStanding = Shape<typeof standingSchema>;
/** {@link fleetBaySchema} as a type. */
export type FleetBayFinding = Shape<typeof fleetBaySchema>;
/** {@link fleetSignalSchema} as a type. */
export type FleetSignalFinding = Shape<typeof fleetSignalSchema>;
/** {@link fleetMakeSchema} as a type. */
export type FleetMakeFinding = Shape<typeof fleetMakeSchema>;
/** {@link fleetPairSchema} as a type. */
export type FleetPairFinding = Shape<typeof fleetPairSchema>;
