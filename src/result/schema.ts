import { z } from "zod";
import { historiesSchema } from "./histories-schema.js";
import { dependenceSchema, referenceModelSchema } from "./references-schema.js";
import { monthsSchema } from "./months-schema.js";
import { estimateSchema } from "./estimate-schema.js";
import { boundsSchema, coversSchema } from "./cover-schema.js";
import { bandAdviceSchema, clockOffsetSchema, diaryConflictsSchema, disagreementsSchema, eventCategoriesSchema, signalChangeSchema, toConfirmSchema } from "./witness-schema.js";
import { drillSchema, hostileCaseSchema, tuningSchema } from "./trial-schema.js";
import { act, basis, instant, share, stateWord, subjectClass, verdict, type Shape } from "./values.js";

/** Changed whenever a reader of older findings would misunderstand newer ones. */
export const FINDINGS_SCHEMA = "keyworthy/findings/1";


const ledgerRow = z.strictObject({
  source: z.string(),
  file: z.string(),
  read: z.int(),
  accepted: z.int(),
  duplicate: z.int(),
  setAside: z.int(),
  reasons: z.array(z.strictObject({ reason: z.string(), count: z.int() })),
  missingCells: z.int(),
  unreadableCells: z.int(),
  repeatedHourRows: z.int(),
  shiftedRows: z.int(),
  outOfOrderRows: z.int(),
  cutOff: z.boolean(),
  first: instant.nullable(),
  last: instant.nullable(),
});

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
  occupiedShare: share.nullable(),
  signals: z.array(z.string()),
  missedShare: estimateSchema,
  phantomRate: estimateSchema,
  agreement: estimateSchema,
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

/** How one signal behaved in one episode. */
export const participantSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  outcome: z.enum(["agreed", "late", "early", "missed", "fragmented", "unknown"]),
  /** Positive: the signal turned after the reference did. */
  lagSeconds: z.number().nullable(),
});

/** One arrival or departure. */
export const episodeSchema = z.strictObject({
  id: z.string(),
  kind: z.enum(["arrival", "departure"]),
  anchor: instant,
  anchorSubject: z.string(),
  from: instant,
  to: instant,
  subjects: z.array(z.string()),
  basis,
  participants: z.array(participantSchema),
});

/** A stretch in which a signal said on (or off) and the reference knew better, outside all episodes. */
export const phantomSchema = z.strictObject({
  signal: z.string(),
  subject: z.string(),
  said: z.enum(["on", "off"]),
  from: instant,
  to: instant,
});

const outcome = z.enum(["right", "wrong", "unverified"]);

/** One instant at which the rule would have acted. */
export const firingSchema = z.strictObject({
  id: z.string(),
  at: instant,
  outcome,
  /** What the rule's own signals make of it too; for an unverified firing this is all there is. */
  looks: z.enum(["right", "wrong", "unclear"]),
  why: z.string(),
  /** Wrong only because the rule's `right_when` asks more than the default of its act does. */
  wrongByOwnWords: z.boolean(),
  /** The wanted instant it serves, if any, and how long after it the firing came. */
  wantedAt: instant.nullable(),
  delaySeconds: z.number().nullable(),
  vouchers: z.array(z.string()),
  /** What one witness outside the rule makes of an unverified firing. */
  supported: z.enum(["right", "wrong"]).nullable(),
});

/** One instant at which the rule should have acted. */
export const wantedSchema = z.strictObject({
  at: instant,
  outcome: z.enum(["served", "late", "missed"]),
  verified: z.boolean(),
  firing: z.string().nullable(),
  delaySeconds: z.number().nullable(),
  /** For late and missed: which parts of the rule stood in the way. */
  why: z.string(),
});

/** A reason behind a verdict, as a measured number against a limit. */
export const reasonSchema = z.strictObject({
  code: z.enum([
    "wrong-upper-bound",
    "wrong-lower-bound",
    "missed-upper-bound",
    "missed-lower-bound",
    "single-signal",
    "single-cause",
    "single-in-practice",
    "nothing-wanted",
    "no-limits",
    "blind-time",
    "unclear-time",
    "days-seen",
    "uneven-periods",
    "clock-offset",
    "holds-for",
    "own-words",
  ]),
  /** `clears`: speaks for enabling. `open`: not shown yet. `breaks`: forbids it. `noted`: worth knowing, decides nothing. */
  effect: z.enum(["clears", "open", "breaks", "noted"]),
  text: z.string(),
  measured: z.number().nullable(),
  limit: z.number().nullable(),
  unit: z.string(),
});

const excerptShape = {
  from: instant,
  to: instant,
  lanes: z.array(z.strictObject({ label: z.string(), role: z.enum(["signal", "reference", "rule"]), steps: z.array(z.tuple([instant, stateWord])) })),
};

/** A step-line excerpt around a firing, for a timing diagram. */
export const momentSchema = z.strictObject({ firing: z.string(), ...excerptShape });

/** Hours by margin; null: nothing the signals could say would have made the rule fire. */
const marginHours = z.array(z.tuple([z.int().nullable(), z.number()]));

/** A stretch over which one signal alone stood between the rule and a wrong firing. */
export const nearMissSchema = z.strictObject({
  from: instant,
  to: instant,
  /** Each of these alone would have done. */
  inTheWay: z.array(z.string()),
  why: z.string(),
  /** A witness outside the rule, or the diary, says that firing would have been wrong. */
  verified: z.boolean(),
  /** For a timing diagram, around it or its first hours; null but for the worst few of a rule: vouched for, then the longest. */
  excerpt: z.strictObject(excerptShape).nullable(),
});

/** Expected at the rates measured, and at the upper ends of their intervals; null with a reason where a rate is not known. */
const expectedFigure = z.strictObject({ value: z.number().nullable(), high: z.number().nullable(), why: z.string().nullable() });
/** Each signal by itself, and with what its shared causes do to several at once. */
const expectedTwice = z.strictObject({ independent: expectedFigure, withSharedCauses: expectedFigure });
const cutSetShape = { signals: z.array(z.string()), causes: z.array(z.string()), text: z.string() };
/** Minimal sets of up to `upToSize` members, smallest first: `count` in all, at most a hundred listed. */
const cutSetList = z.strictObject({ upToSize: z.int(), count: z.int(), sets: z.array(z.strictObject(cutSetShape)) });

/** What could make the rule fire wrongly, or keep it from firing. */
const cutSetsSchema = z.strictObject({
  /** By lying together, all others reading against it. */
  firing: cutSetList,
  /** By falling silent together, whatever all others read. */
  failing: cutSetList,
  /** Given what the others really read in the hours in which firing would have been wrong; those that suffice longest first. */
  inPractice: z.strictObject({
    wrongHours: z.number(),
    upToSize: z.int(),
    count: z.int(),
    sets: z.array(z.strictObject({ ...cutSetShape, share, hoursPerMonth: z.number(), expectedPerYear: expectedFigure })),
    expectedPerYear: expectedTwice,
  }),
  expectedMissedShare: expectedTwice,
  /** The share of a signal's lies put down to each cause it shares: a prior, not measured. */
  beta: z.number(),
  assumes: z.string(),
});

/** A pair of an opening and a closing rule, a month of 30 days. */
export const householdCostSchema = z.strictObject({
  opens: z.string(),
  /** Null where the site has no rule that closes. */
  closes: z.string().nullable(),
  openHours: z.number().nullable(),
  openAndEmptyHours: z.number().nullable(),
  openUnclearHours: z.number().nullable(),
  lockedOut: z.number(),
  closedOnSomebody: z.number().nullable(),
  minutesWaited: z.number(),
  line: z.string(),
});

/** The three verdicts. */
export const verdicts = ["clear to enable", "not proven yet", "do not enable"] as const;

const firingCounts = z.strictObject({ count: z.int(), right: z.int(), wrong: z.int(), unverified: z.int() });
const wantedCounts = z.strictObject({ count: z.int(), served: z.int(), late: z.int(), missed: z.int(), verified: z.int(), verifiedFailed: z.int() });

/** A rule's evidence over all periods in which it was the same rule, this one among them: the verdict rests on it. */
export const cumulatedSchema = z.strictObject({
  /** Oldest first; the last is this period. */
  periods: z.array(z.strictObject({ label: z.string(), firings: firingCounts, wanted: wantedCounts, yearsSeen: z.number() })),
  yearsSeen: z.number(),
  blindShare: share,
  firings: firingCounts,
  wanted: wantedCounts,
  wrongPerYear: z.strictObject({ unverifiedAsRight: estimateSchema, unverifiedAsWrong: estimateSchema }),
  /** Missed or late, unverified taken as missed. */
  missedShare: estimateSchema,
  bounds: boundsSchema,
  covers: coversSchema,
  moreMonthsIfUnverifiedWrong: z.number().nullable(),
  moreMonthsIfUnverifiedRight: z.number().nullable(),
  moreWantedServed: z.int().nullable(),
  /** What this period by itself would have said. */
  periodAlone: z.strictObject({ verdict, sentence: z.string(), reasons: z.array(reasonSchema) }),
});

/** One rule, replayed over the period. */
export const ruleFindingSchema = z.strictObject({
  name: z.string(),
  act,
  /** Of the rule, its limits and the signals it uses: evidence of periods with equal digests belongs together. */
  digest: z.string(),
  /** Over all periods of the same rule where `cumulated` is there. */
  verdict,
  /** The verdict in one plain sentence. */
  sentence: z.string(),
  reasons: z.array(reasonSchema),
  /** The condition in words, and what makes a firing right in words. */
  condition: z.string(),
  rightWhen: z.string(),
  signals: z.array(z.string()),
  /** From here on: this period alone, but for `cumulated`. */
  firings: firingCounts,
  wanted: wantedCounts,
  wrongPerYear: z.strictObject({ unverifiedAsRight: estimateSchema, unverifiedAsWrong: estimateSchema, limit: z.number().nullable() }),
  /** Missed or late; unverified wanted instants taken as served, and as missed. */
  missedShare: z.strictObject({ unverifiedAsServed: estimateSchema, unverifiedAsMissed: estimateSchema, limit: z.number().nullable() }),
  /** One-sided, good at every look, for clumped faults and for the best of all variants: what this period alone would be judged by. */
  bounds: boundsSchema,
  delay: z.strictObject({ median: estimateSchema, p90: estimateSchema }),
  evidence: z.strictObject({
    /** Years of history over which the rule could be judged at all. */
    yearsSeen: z.number(),
    /** Share of the period in which some way of firing could not be heard. */
    blindShare: share,
    /** Share of the period in which neither the diary nor two independent witnesses outside the rule can say whether acting was wanted. */
    unclearShare: share,
    /** Further 30-day months without a wrong (or unverified) firing until the limit is met; null without a limit. */
    moreMonthsIfUnverifiedWrong: z.number().nullable(),
    moreMonthsIfUnverifiedRight: z.number().nullable(),
    /** Further wanted instants, all served, until the missed limit is met. */
    moreWantedServed: z.int().nullable(),
    /** The same, should faults go on at the observed rate; null where that rate does not meet the limit. */
    atObservedRate: z.strictObject({ moreMonths: z.number().nullable(), moreWanted: z.int().nullable() }),
    /** Of at least one wrong firing: 1 - exp(-rate). */
    chanceWithinYear: z.strictObject({ value: share.nullable(), low: share.nullable(), high: share.nullable(), text: z.string() }),
    covers: coversSchema,
  }),
  /** Null where no earlier period of the same rule was found, or none was to be looked at. */
  cumulated: cumulatedSchema.nullable(),
  /** Signals or shared causes that alone, by lying, make the rule fire. */
  singlePoints: z.strictObject({ signals: z.array(z.string()), causes: z.array(z.string()) }),
  /** How many signals would have had to read differently for the rule to fire; `exact` false: margins above 1 are bounds from below. */
  margin: z.strictObject({ exact: z.boolean(), hoursAt: marginHours, hoursAtWhileWrong: marginHours, nearMisses: z.array(nearMissSchema) }),
  cutSets: cutSetsSchema,
  /** Every fault in every signal of the rule and every shared cause of one. */
  drills: z.array(drillSchema),
  /** Only for rules that unlock or disarm. */
  hostile: z.array(hostileCaseSchema),
  /** Null for rules that were only tried. */
  tuning: tuningSchema.nullable(),
  firingList: z.array(firingSchema),
  wantedList: z.array(wantedSchema),
  moments: z.array(momentSchema),
});

/** The one object the report, the CSV files and the JSON are made from. */
export const findingsSchema = z.strictObject({
  schema: z.literal(FINDINGS_SCHEMA),
  /** True: names, places and dates were replaced, for sharing; see redact.ts. */
  redacted: z.boolean(),
  made: z.strictObject({ at: instant, by: z.string() }),
  site: z.strictObject({
    name: z.string(),
    timeZone: z.string(),
    confidence: z.number(),
    subjects: z.array(z.strictObject({ id: z.string(), class: subjectClass, vehicle: z.string().nullable() })),
    sharedCauses: z.array(z.strictObject({ cause: z.string(), signals: z.array(z.string()) })),
    settings: z.strictObject({ bridgeMs: z.number(), joinMs: z.number(), restartMs: z.number() }),
  }),
  /** `[from, to)`; `label` is the folder name, e.g. 2026-10. */
  period: z.strictObject({ from: instant, to: instant, days: z.number(), label: z.string() }),
  ledger: z.array(ledgerRow),
  diary: z.strictObject({ entries: z.int(), hours: z.number(), conflicts: diaryConflictsSchema }),
  /** Signals that hang together though the site file names nothing that they share. Absent in results of earlier versions. */
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
  toConfirm: toConfirmSchema,
  rules: z.array(ruleFindingSchema),
  /** Further rules that were replayed beside the site's own, for comparison; they decide nothing. */
  tried: z.array(ruleFindingSchema),
  /** Every rule judged on this history so far, by earlier runs too, with the settings swept around it: the best of many proves less. */
  judged: z.array(z.strictObject({ act, digest: z.string(), settings: z.int() })),
  /** What each pair of an opening and a closing rule would cost the household. */
  cost: z.array(householdCostSchema),
  /** Against earlier periods of the same site; null where none was to be looked at. */
  months: monthsSchema.nullable(),
  /** What everything said throughout; null in a redacted result. */
  histories: historiesSchema.nullable(),
  /** Things the reader must know that belong to no single figure. */
  notes: z.array(z.string()),
});

/** {@link findingsSchema} as a type. */
export type Findings = Shape<typeof findingsSchema>;
/** {@link ruleFindingSchema} as a type. */
export type RuleFinding = Shape<typeof ruleFindingSchema>;
/** {@link signalScoreSchema} as a type. */
export type SignalScore = Shape<typeof signalScoreSchema>;
/** {@link bayScoreSchema} as a type. */
export type BayScore = Shape<typeof bayScoreSchema>;
/** {@link episodeSchema} as a type. */
export type EpisodeFinding = Shape<typeof episodeSchema>;
/** {@link momentSchema} as a type. */
export type Moment = Shape<typeof momentSchema>;
/** See {@link nearMissSchema}. */
export type NearMissFinding = Shape<typeof nearMissSchema>;
/** The lanes of a timing diagram. */
export type ExcerptFinding = Omit<Moment, "firing">;
/** {@link firingSchema} as a type. */
export type FiringFinding = Shape<typeof firingSchema>;
