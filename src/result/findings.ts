import { z } from "zod";
import { decisionSchema } from "./decision.js";
import { episodeSchema, phantomSchema } from "./episodes.js";
import { exportFaultSchema } from "./export-faults.js";
import { historiesSchema } from "./histories.js";
import { questionsSchema } from "./questions.js";
import { ledgerRowSchema } from "./ledger.js";
import { mendSchema } from "./mend.js";
import { monthsSchema } from "./months.js";
import { proposalsSchema } from "./proposals.js";
import { dependenceSchema, referenceModelSchema } from "./references.js";
import { householdCostSchema, ruleFindingSchema } from "./rules.js";
import { sensorSchema } from "./sensors.js";
import { bayScoreSchema, signalScoreSchema } from "./signals.js";
import { upkeepSchema } from "./upkeep.js";
import { stirsSchema } from "./stirs.js";
import { typicalDaySchema } from "./typical-day.js";
import { act, confidence, instant, subjectClass, timeZone, type Shape } from "./values.js";
import { bandAdviceSchema, clockOffsetSchema, diaryConflictsSchema, disagreementsSchema, signalChangeSchema } from "./witnesses.js";

/** Changed whenever a reader of older findings would misunderstand newer ones. */
export const FINDINGS_SCHEMA = "keyworthy/findings/1";

/** The one object the report, the CSV files and the JSON are made from. */
export const findingsSchema = z.strictObject({
  schema: z.literal(FINDINGS_SCHEMA),
  /** True: names, places and dates were replaced, for sharing; see redact.ts. */
  redacted: z.boolean(),
  made: z.strictObject({ at: instant, by: z.string() }),
  site: z.strictObject({
    name: z.string(),
    timeZone,
    confidence,
    subjects: z.array(z.strictObject({ id: z.string(), class: subjectClass, vehicle: z.string().nullable() })),
    sharedCauses: z.array(z.strictObject({ cause: z.string(), signals: z.array(z.string()) })),
    settings: z.strictObject({ bridgeMs: z.number(), joinMs: z.number(), restartMs: z.number() }),
  }),
  /** `[from, to)`; `label` is the folder name, e.g. 2026-10. */
  period: z.strictObject({ from: instant, to: instant, days: z.number(), label: z.string() }),
  ledger: z.array(ledgerRowSchema),
  diary: z.strictObject({ entries: z.int(), hours: z.number(), conflicts: diaryConflictsSchema }),
  /** Signals found to depend on each other though the site file names no shared cause. Absent in older results. */
  dependences: z.array(dependenceSchema).optional(),
  /** What the reference of each subject rests on. */
  references: z.array(referenceModelSchema),
  signals: z.array(signalScoreSchema),
  bays: z.array(bayScoreSchema),
  episodes: z.array(episodeSchema),
  phantoms: z.array(phantomSchema),
  disagreements: z.array(disagreementsSchema),
  clocks: z.array(clockOffsetSchema),
  bands: z.array(bandAdviceSchema),
  changes: z.array(signalChangeSchema),
  /** What to do with the rules, and why. */
  decision: decisionSchema,
  questions: questionsSchema,
  /** What to mend, the gravest first by what it did to the rules; empty where nothing did anything. */
  mend: z.array(mendSchema),
  /** Every signal in short, in the order in which to look at them. Absent in older results. */
  sensors: z.array(sensorSchema).optional(),
  /** How an ordinary day goes; null where less than a week was seen, or nothing of people and vehicles. Absent in older results. */
  typicalDay: typicalDaySchema.nullable().optional(),
  /** What sensors that notice only movement noticed, by person. Absent where there are none, and in older results. */
  stirs: z.array(stirsSchema).optional(),
  rules: z.array(ruleFindingSchema),
  /** Further rules that were replayed beside the site's own, for comparison; they decide nothing. */
  tried: z.array(ruleFindingSchema),
  /** Other rules found for each of the site's own that this period alone does not clear. */
  proposals: z.array(proposalsSchema),
  /** Every rule judged on this history so far, by earlier runs too, with the settings swept around it and the other rules looked at in its place: the best of many proves less. */
  judged: z.array(z.strictObject({ act, digest: z.string(), settings: z.int() })),
  /** What each pair of an opening and a closing rule would cost the household. */
  cost: z.array(householdCostSchema),
  /** Against earlier periods of the same site; null where none was to be looked at. */
  months: monthsSchema.nullable(),
  /** What everything said throughout; null in a redacted result. */
  histories: historiesSchema.nullable(),
  /** Exports that fall short, and what that hides: no fault of a sensor. Absent in older results. */
  exports: z.array(exportFaultSchema).optional(),
  /** By day what the sensors did and what it cost the rules, for comparisons of sites and months. Absent in older results. */
  upkeep: upkeepSchema.optional(),
  /** Things the reader must know that belong to no single figure. */
  notes: z.array(z.string()),
});

/** {@link findingsSchema} as a type. */
export type Findings = Shape<typeof findingsSchema>;
/** Findings before it is said what to do. */
export type Undecided = Omit<Findings, "decision">;
/** A rule that was judged on this history. */
export type JudgedVariant = Findings["judged"][number];
