import { z } from "zod";
import { estimateSchema } from "./estimate-schema.js";
import { instant, share, stateWord, verdict } from "./values.js";


/** A signal's "on" stretches against the reference's, by the categories of Ward, Lukowicz & Gellersen (2011). Hours of jointly known time; events. */
export const eventCategoriesSchema = z.strictObject({
  hours: z.strictObject({
    trueOn: z.number(),
    trueOff: z.number(),
    insertion: z.number(),
    deletion: z.number(),
    fragmentation: z.number(),
    merge: z.number(),
    overfillStart: z.number(),
    overfillEnd: z.number(),
    underfillStart: z.number(),
    underfillEnd: z.number(),
  }),
  /** Of the reference's events: C, D, F, M, FM. */
  reference: z.strictObject({ correct: z.int(), deleted: z.int(), fragmented: z.int(), merged: z.int(), fragmentedAndMerged: z.int() }),
  /** Of the signal's: C, I′, F′, M′, FM′. */
  signal: z.strictObject({ correct: z.int(), inserted: z.int(), fragmenting: z.int(), merging: z.int(), fragmentingAndMerging: z.int() }),
});

/** Where signals contradict the diary beyond lag; the longest are listed, longest first. */
export const diaryConflictsSchema = z.strictObject({
  count: z.int(),
  /** No longer than a minute. */
  brief: z.int(),
  hours: z.number(),
  list: z.array(z.strictObject({ signal: z.string(), subject: z.string(), said: z.enum(["on", "off"]), from: instant, to: instant, file: z.string(), line: z.int() })),
});

/** A subject's disagreements; the longest are listed, longest first, each with the lanes of a timing diagram. */
export const disagreementsSchema = z.strictObject({
  subject: z.string(),
  count: z.int(),
  brief: z.int(),
  hours: z.number(),
  list: z.array(
    z.strictObject({
      from: instant,
      to: instant,
      saidOn: z.array(z.string()),
      saidOff: z.array(z.string()),
      /** Signals that contradict a reference made without them. */
      againstReference: z.array(z.string()),
      /** What all witnesses together held for most of it. */
      reference: stateWord,
      excerpt: z.strictObject({
        from: instant,
        to: instant,
        lanes: z.array(z.strictObject({ label: z.string(), role: z.enum(["signal", "reference"]), steps: z.array(z.tuple([instant, stateWord])) })),
      }),
    }),
  ),
  /** Pairs of signals that nobody could judge between for some time, with what they disagreed on then: a fault of one of the two, charged to neither. */
  pairs: z.array(z.strictObject({ signals: z.tuple([z.string(), z.string()]), count: z.int(), hours: z.number(), jointDays: z.number(), perMonth: estimateSchema })),
});

/** Two sources and how far their clocks seem to be apart: positive where the second's stamps are later. */
export const clockOffsetSchema = z.strictObject({
  first: z.string(),
  second: z.string(),
  subjects: z.array(z.string()),
  offset: estimateSchema,
  whenOn: estimateSchema,
  whenOff: estimateSchema,
  drift: estimateSchema,
  /** What the site file adds already, seconds. */
  correctedSeconds: z.tuple([z.number(), z.number()]),
  /** How each source's stamps were read: writing and zone. */
  readAs: z.tuple([z.string(), z.string()]),
  /** The differences behind the offset, smallest first, by the pair of signals that made them. */
  pairs: z.array(z.strictObject({ signals: z.tuple([z.string(), z.string()]), seconds: z.array(z.number()) })),
  suggestion: z.strictObject({ source: z.string(), clockCorrection: z.string(), seconds: z.number() }).nullable(),
  note: z.string(),
  /** Rules whose shortest window the offset may eat by more than half. */
  strained: z.array(z.strictObject({ rule: z.string(), windowSeconds: z.number(), offsetSeconds: z.number(), text: z.string() })),
});

const mode = z.strictObject({ metres: z.number(), deviationMetres: z.number(), readings: z.int() });
const margin = z.strictObject({ metres: z.number(), deviations: z.number() });

/** What the readings of one distance signal say about its band. Lengths in metres. */
export const bandAdviceSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  unit: z.enum(["m", "cm", "mm", "ft", "in"]),
  readings: z.int(),
  noEcho: z.int(),
  histogram: z.strictObject({ from: z.number(), width: z.number(), counts: z.array(z.int()) }).nullable(),
  occupied: mode.nullable(),
  empty: mode.nullable(),
  emptyIsNoEcho: z.boolean(),
  /** What it read over each stay and each absence: one value a stretch, smallest first. */
  looks: z.strictObject({ occupied: z.array(z.number()), empty: z.array(z.number()) }),
  thresholds: z.strictObject({
    otsuMetres: z.number().nullable(),
    mixtureMetres: z.number().nullable(),
    mixture: z.array(z.strictObject({ share, mean: z.number(), deviation: z.number() })).nullable(),
  }),
  present: z.strictObject({ nearMetres: z.number(), farMetres: z.number(), slackMetres: z.number(), maximumMetres: z.number().nullable() }),
  /** Negative: on the wrong side. */
  margins: z.strictObject({ occupiedToNear: margin.nullable(), occupiedToFar: margin.nullable(), emptyToBand: margin.nullable() }),
  otherModes: z.array(z.strictObject({ metres: z.number(), readings: z.int(), stretches: z.int(), hours: z.number(), firstAt: instant, insideBand: z.boolean() })),
  temperatureMetres: z.number().nullable(),
  /** `written`: as it would stand in the site file. */
  suggested: z.strictObject({ nearMetres: z.number(), farMetres: z.number(), written: z.string() }).nullable(),
  /** The present band holds all of the suggested one and keeps clear of the empty readings. */
  presentHolds: z.boolean().nullable(),
  why: z.string().nullable(),
  evidence: z.array(z.string()),
});

/** One quantity of one signal from day to day; `changed` only where chart and shift agree, over all series of the audit. */
export const signalChangeSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  what: z.enum(["reading", "lag to on", "lag to off", "silence", "contradiction"]),
  unit: z.enum(["metres", "seconds", "share"]),
  changed: z.boolean(),
  since: instant.nullable(),
  before: z.number().nullable(),
  after: z.number().nullable(),
  chart: z.strictObject({ centre: z.number(), low: z.number(), high: z.number(), outside: z.int(), runs: z.int() }).nullable(),
  pValue: share.nullable(),
  adjustedPValue: share.nullable(),
  why: z.string().nullable(),
  /** A local day's first instant and its value. */
  points: z.array(z.tuple([instant, z.number()])),
});

const stake = z.strictObject({ wrongUpper: z.number().nullable(), wrongLower: z.number(), missedUpper: z.number(), missedLower: z.number(), verdict });

/** The moments whose truth would move a verdict most, and the rows that would settle them: the content of to-confirm.csv. */
export const toConfirmSchema = z.strictObject({
  rules: z.array(z.strictObject({ rule: z.string(), unverifiedFirings: z.int(), unverifiedWanted: z.int(), now: stake, ifAllRight: stake, ifAllWrong: stake, fewestRight: z.int().nullable() })),
  /** Of all unverified moments; `moments` holds the first of them. */
  count: z.int(),
  moments: z.array(
    z.strictObject({
      id: z.string(),
      rule: z.string(),
      sort: z.enum(["firing", "wanted"]),
      at: instant,
      looks: z.enum(["right", "wrong", "unclear"]),
      ifSo: stake,
      ifNot: stake,
      /** The larger change of a bound, in limits. */
      moves: z.number(),
      changesVerdict: z.boolean(),
    }),
  ),
  rows: z.array(z.strictObject({ subject: z.string(), from: instant, to: instant, moments: z.array(z.string()), words: z.tuple([z.string(), z.string()]), moves: z.string() })),
});
