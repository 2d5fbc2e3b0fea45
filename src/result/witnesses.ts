import { z } from "zod";
import { estimateSchema } from "./estimate.js";
import { instant, type Shape, share, stateWord } from "./values.js";


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
  /** All of them, and how many were no longer than a lag (a minute). */
  count: z.int(),
  brief: z.int(),
  hours: z.number(),
  /** The longest, longest first. */
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
  /** Subjects that both watch. */
  subjects: z.array(z.string()),
  /** Positive: the second source's stamps are later than the first's for the same change. */
  offset: estimateSchema,
  whenOn: estimateSchema,
  whenOff: estimateSchema,
  /** Seconds a day, positive: the second falls further behind, or its stamps grow later. */
  drift: estimateSchema,
  /** What the site file adds already, seconds. */
  correctedSeconds: z.tuple([z.number(), z.number()]),
  /** How each source's stamps were read: writing and zone. */
  readAs: z.tuple([z.string(), z.string()]),
  /** The differences behind the offset, smallest first, by the pair of signals that made them. */
  pairs: z.array(z.strictObject({ signals: z.tuple([z.string(), z.string()]), seconds: z.array(z.number()) })),
  /**
   * What to write into the site file to bring the second source in line with the first; null where there is no case
   * for it.
   */
  suggestion: z.strictObject({ source: z.string(), clockCorrection: z.string(), seconds: z.number() }).nullable(),
  /** Why to correct a clock or not, in a sentence. */
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
  /** Readings at or past the maximum: no echo. */
  noEcho: z.int(),
  /** Of the readings with an echo, cut at their 0.1 % and 99.9 % quantiles; null without any. */
  histogram: z.strictObject({ from: z.number(), width: z.number(), counts: z.array(z.int()) }).nullable(),
  occupied: mode.nullable(),
  /** Null too where an empty bay gives no echo: see `emptyIsNoEcho`. */
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
  /** What an echo meter's reading of the occupied mode may shift by when the air turns 20 °C colder or warmer. */
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
  /** The chart alarms, the shift is too large for luck over all series looked at, and large enough to matter. */
  changed: z.boolean(),
  /** The first day after the likeliest place of a shift; null where there is none. */
  since: instant.nullable(),
  /** Medians of the days before and from then on. */
  before: z.number().nullable(),
  after: z.number().nullable(),
  chart: z.strictObject({ centre: z.number(), low: z.number(), high: z.number(), outside: z.int(), runs: z.int() }).nullable(),
  pValue: share.nullable(),
  /** Adjusted over all series of the audit (Benjamini & Hochberg). */
  adjustedPValue: share.nullable(),
  /** Why it could not be looked at; null otherwise. */
  why: z.string().nullable(),
  /** A local day's first instant and its value. */
  points: z.array(z.tuple([instant, z.number()])),
});

/** {@link clockOffsetSchema} as a type. */
export type ClockOffset = Shape<typeof clockOffsetSchema>;
/** Two signals whose turns told an offset. */
export type ClockPair = ClockOffset["pairs"][number];
/** A rule that an offset puts under strain. */
export type StrainedRule = ClockOffset["strained"][number];
/** {@link bandAdviceSchema} as a type. */
export type BandAdvice = Shape<typeof bandAdviceSchema>;
/** {@link signalChangeSchema} as a type. */
export type SignalChange = Shape<typeof signalChangeSchema>;
/** {@link diaryConflictsSchema} as a type. */
export type DiaryConflicts = Shape<typeof diaryConflictsSchema>;
/** A stretch in which a signal contradicts the diary. */
export type DiaryConflict = DiaryConflicts["list"][number];
/** {@link disagreementsSchema} as a type. */
export type SubjectDisagreements = Shape<typeof disagreementsSchema>;
/** A stretch in which signals of one subject differ. */
export type Disagreement = SubjectDisagreements["list"][number];
/** Two signals that nobody could judge between. */
export type PairDisagreement = SubjectDisagreements["pairs"][number];
/** {@link eventCategoriesSchema} as a type. */
export type EventCategories = Shape<typeof eventCategoriesSchema>;
