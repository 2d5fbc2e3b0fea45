import { z } from "zod";
import { confidence, instant, share, subjectClass, timeZone, type Shape } from "./values.js";

/** Changed whenever a reader of older fleet results would misunderstand newer ones. */
export const FLEET_SCHEMA = "keyworthy/fleet/2";

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

/**
 * `faults`: missed turns and phantoms, and of a bay the disagreements of its pairs, each once; `silences`: stretches without a word;
 * `flickers`: turns taken back within a minute.
 */
const compared = { faults: standingSchema, silences: standingSchema, flickers: standingSchema };
const use = {
  /** The local days of the audit, first and last. */
  from: z.string(),
  to: z.string(),
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

/**
 * All signals of one model, or of one firmware of a model, against the other signals of the same kind, or the same model. It stands out
 * only if it does so without its worst sensor too: `worst` says what share of its faults that one has.
 */
export const fleetMakeSchema = z.strictObject({
  kind: z.string(),
  model: z.string(),
  firmware: z.string().nullable(),
  signals: z.int(),
  sites: z.int(),
  worst: z.strictObject({ site: z.string(), signal: z.string(), faults: z.int(), share }).nullable(),
  ...use,
});

/** In what way a place fails. */
export const failureMode = z.enum([
  "stuck", "dark", "pair differs", "chattering", "missing turns", "blind", "late", "drifting", "restarting", "clock", "swapped", "export", "make",
]);

/** One number for each day of the audit. */
const byDay = z.array(z.number());

/** One thing to do: ask for an export, send somebody to a place, update a make. */
export const workOrderSchema = z.strictObject({
  /** Of site, place and mode: the same every month. */
  key: z.string(),
  /** The first local day of the audit it is of. */
  month: z.string(),
  kind: z.enum(["export", "place", "update"]),
  /** `new`: not on the list of the audit before. `mended`: it was, and this one found nothing, though it looked. */
  state: z.enum(["new", "open", "mended"]),
  /** From 1; mended ones come last. */
  priority: z.int(),
  site: z.string(),
  place: z.string(),
  subject: z.string().nullable(),
  /** A gate or door that a rule reads. */
  gate: z.boolean(),
  sensors: z.array(z.string()),
  mode: failureMode,
  model: z.string().nullable(),
  firmware: z.string().nullable(),
  /** Local days. */
  firstSeen: z.string(),
  lastSeen: z.string(),
  /** Audits in a row that list it, this one among them; of mended ones, those that did. */
  monthsOpen: z.int(),
  turns: z.int(),
  wrong: z.int(),
  silentHours: z.number(),
  /** At least this share of its turns goes wrong; null where that was not counted. */
  wrongShareLow: share.nullable(),
  /** Days on which a rule failed or acted wrongly because of it; of exports, days that cannot be judged. */
  nightsLost: z.int(),
  rules: z.array(z.string()),
  who: z.string(),
  part: z.string(),
  reason: z.string(),
  nextStep: z.string(),
  /** The small page beside this result that leads to the site's. */
  page: z.string(),
  /** Its own figure in each audit at hand, oldest first; null where it was not there. */
  trend: z.strictObject({ unit: z.string(), points: z.array(z.strictObject({ month: z.string(), value: z.number().nullable() })) }),
  /** The sensor, and another of the same place, by day: hours wrong, silent and hidden by an export, and how often it flickered. */
  strip: z.array(z.strictObject({ signal: z.string(), wrong: byDay, silent: byDay, hidden: byDay, flickers: byDay })),
});

/** A fleet result: finished audits of many sites and months, compared. */
export const fleetSchema = z.strictObject({
  schema: z.literal(FLEET_SCHEMA),
  made: z.strictObject({ at: instant, by: z.string() }),
  confidence,
  /** The audits it is made from, by site and time. `digest`: of their counts without the time of making. */
  parts: z.array(
    z.strictObject({
      site: z.string(),
      timeZone,
      period: z.strictObject({ from: instant, to: instant, days: z.number(), label: z.string() }),
      digest: z.string(),
      rules: z.array(z.strictObject({ name: z.string(), act: z.string(), verdict: z.string() })),
    }),
  ),
  /** Parts that were asked for and are not in it, and why. */
  leftOut: z.array(z.strictObject({ what: z.string(), why: z.string() })),
  /** Sites that belong to the round: those a fleet file names, or those that were audited together. Empty where nobody said. */
  belongs: z.array(z.string()),
  /** Of these, the ones without an audit of this month, and why. */
  absent: z.array(z.strictObject({ site: z.string(), why: z.string() })),
  /** Exports to ask for, places to go to and makes to update, in this order, the gravest first; then what was mended. All of them. */
  orders: z.array(workOrderSchema),
  /** What the page says of all that, in sentences. */
  say: z.strictObject({
    headline: z.string(),
    /** How much was seen, and that nothing else stands out. */
    trust: z.string(),
    /** What would have been listed, and what could hide. */
    found: z.string(),
    hide: z.string(),
    since: z.string(),
    /** What it cost each rule, a sentence a rule. */
    cost: z.array(z.string()),
  }),
  /** The share of wrong changes from which on a sensor with so many changes stands out, as seen without the listed. */
  funnel: z.array(z.tuple([z.number(), z.number()])),
  /** By failure mode, most first: how many places, and what they cost. */
  modes: z.array(z.strictObject({ mode: failureMode, places: z.int(), wrong: z.int(), silentHours: z.number(), nightsLost: z.int() })),
  /** How far an empty list is to be trusted. */
  seen: z.strictObject({
    sensors: z.int(),
    /** Heard for at least 97 hours in 100; for less; never. */
    whole: z.int(),
    part: z.int(),
    never: z.int(),
    turns: z.int(),
    /** Sensors with fewer turns than the usual one is judged by. */
    few: z.int(),
    fewerThan: z.int(),
    /** Sensors that nothing but one other sensor checks. */
    unchecked: z.int(),
    /** A sensor with the usual number of turns is listed nine times in ten if it gets this share of them wrong; null without turns. */
    usualTurns: z.int(),
    foundShare: share.nullable(),
  }),
  /** By site and rule, what became of each day on which something was wanted, and the order that it is put down to. */
  nights: z.array(
    z.strictObject({
      site: z.string(),
      month: z.string(),
      rule: z.string(),
      act: z.string(),
      days: z.array(z.strictObject({ day: z.string(), outcome: z.enum(["served", "failed", "wrong", "unjudged"]), orders: z.array(z.string()), signals: z.array(z.string()) })),
    }),
  ),
  /** How often things fail and how long that takes to mend, over all audits at hand, by model and firmware. */
  reliability: z.array(
    z.strictObject({
      kind: z.string(),
      model: z.string(),
      firmware: z.string().nullable(),
      sensors: z.int(),
      sensorDays: z.number(),
      /** Times that a sensor of it came onto the list. */
      failures: z.int(),
      /** Between failures, with its interval; `value` null without a failure. */
      daysBetween: z.strictObject({ value: z.number().nullable(), low: z.number().nullable(), high: z.number().nullable() }),
      /** From coming onto the list to leaving it, in audits; null where none left it. */
      monthsToMend: z.number().nullable(),
      /** Share of its time in which it was heard and not wrong. */
      availability: share.nullable(),
      /** Spares that suffice for the next month nine times in ten. */
      spares: z.int(),
    }),
  ),
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
/** {@link workOrderSchema} as a type. */
export type WorkOrder = Shape<typeof workOrderSchema>;
/** In what way a place fails. */
export type FailureMode = WorkOrder["mode"];
/** {@link fleetPairSchema} as a type. */
export type FleetPairFinding = Shape<typeof fleetPairSchema>;
