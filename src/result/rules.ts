import { z } from "zod";
import { boundsSchema, coversSchema } from "./cover.js";
import { culpritSchema } from "./culprit.js";
import { designFiguresSchema, designRoadSchema, limitClaimSchema } from "./design.js";
import { gapSchema, twoEventsSchema } from "./gap.js";
import { estimateSchema } from "./estimate.js";
import { drillSchema, hostileCaseSchema, tuningSchema } from "./trials.js";
import { act, instant, share, stateWord, verdict, type Shape } from "./values.js";

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
  /**
   * Signals outside the rule that tell the outcome, sorted; the word `diary` where a person wrote it down. Empty
   * when unverified.
   */
  vouchers: z.array(z.string()),
  /** What one witness outside the rule makes of an unverified firing. */
  supported: z.enum(["right", "wrong"]).nullable(),
  /** Of a wrong firing: who reported falsely. Null of all others, and where nobody outside the rule can tell. */
  culprit: culpritSchema.nullable(),
});

/** One instant at which the rule should have acted. */
export const wantedSchema = z.strictObject({
  at: instant,
  outcome: z.enum(["served", "late", "missed"]),
  /** A witness outside the rule, or the diary, says so too. */
  verified: z.boolean(),
  /** Id of the firing that serves it, in time or late; null when missed. */
  firing: z.string().nullable(),
  /**
   * From the wanted instant to the firing; negative when it fired a little before. Null when missed, or served by a
   * firing before a rest.
   */
  delaySeconds: z.number().nullable(),
  /** For late and missed: the words of the culprit. */
  why: z.string(),
  /** For late and missed: what it came down to. Null for served ones. */
  culprit: culpritSchema.nullable(),
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
    "by-design",
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
  /** What they would have had to read, in words. */
  why: z.string(),
  /** A witness outside the rule, or the diary, says that firing would have been wrong. */
  verified: z.boolean(),
  /** Around the stretch or its first hours. Null for all except the worst few: verified ones first, then the longest. */
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
  /**
   * Chance that a wanted instant is missed because a failing set of at most `failing.upToSize` members misses it;
   * each signal by itself, and with the shared causes.
   */
  expectedMissedShare: expectedTwice,
  /** The share of a signal's lies put down to each cause it shares: a prior, not measured. */
  beta: z.number(),
  /** The assumptions, in words. */
  assumes: z.string(),
});

/** A pair of an opening and a closing rule, a month of 30 days. */
export const householdCostSchema = z.strictObject({
  opens: z.string(),
  /** Null where the site has no rule that closes. */
  closes: z.string().nullable(),
  /** Hours between a firing of the one and the next firing of the other, ... */
  openHours: z.number().nullable(),
  /** ... of which every person was away, ... */
  openAndEmptyHours: z.number().nullable(),
  /** ... or nobody can tell whether anybody was here. */
  openUnclearHours: z.number().nullable(),
  /** Wanted openings that were missed: somebody stood before a closed door. */
  lockedOut: z.number(),
  /** Closings that were wrong, or look so: somebody was still here. */
  closedOnSomebody: z.number().nullable(),
  /**
   * Minutes between wanted openings and the firings that served them, late ones too; being locked out is not in it.
   */
  minutesWaited: z.number(),
  line: z.string(),
});

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
  /** The road of design over all periods; null where the rule has no two parts in each of them. */
  design: designFiguresSchema.nullable(),
  covers: coversSchema,
  yearsConfirmed: z.number(),
  moreMonths: z.number().nullable(),
  claims: z.array(limitClaimSchema),
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
  /** Signals the rule refers to, sorted. */
  signals: z.array(z.string()),
  /** From here on: this period alone, but for `cumulated`. */
  firings: firingCounts,
  wanted: wantedCounts,
  wrongPerYear: z.strictObject({ unverifiedAsRight: estimateSchema, unverifiedAsWrong: estimateSchema, limit: z.number().nullable(), /** The limit as the site file has it, where in words. */ limitInWords: z.string().optional() }),
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
    /** Of that, what lies on local days of which more than half is unclear: days without a diary. A share of the period too. */
    unclearDaysShare: share,
    /** Years over which a firing at any hour of the day would have been confirmed: what wrong firings are counted over. */
    yearsConfirmed: z.number(),
    /** Further 30-day months without a wrong firing until counting meets the limit; null without a limit, or where an hour of the day is never confirmed. */
    moreMonths: z.number().nullable(),
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
  /** How often independent parts of it would be wrong at once; null where that was not asked. */
  design: designRoadSchema.nullable(),
  /** Whether it can act wrongly with every sensor truthful; null where that was not asked. */
  gap: gapSchema.nullable(),
  /** Firings that are right by other events than those the rule went by. */
  twoEvents: z.array(twoEventsSchema),
  /** What limit each road supports, now and later. */
  claims: z.array(limitClaimSchema),
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
  /** When acting was wanted while an export hides what a signal of the rule said: neither served nor missed. Absent in older results. */
  unjudged: z.array(instant).optional(),
  moments: z.array(momentSchema),
});


/** {@link ruleFindingSchema} as a type. */
export type RuleFinding = Shape<typeof ruleFindingSchema>;
/** {@link momentSchema} as a type. */
export type Moment = Shape<typeof momentSchema>;
/** {@link nearMissSchema} as a type. */
export type NearMissFinding = Shape<typeof nearMissSchema>;
/** The lanes of a timing diagram. */
export type ExcerptFinding = Omit<Moment, "firing">;
/** {@link firingSchema} as a type. */
export type Firing = Shape<typeof firingSchema>;
/** {@link wantedSchema} as a type. */
export type WantedInstant = Shape<typeof wantedSchema>;
/** {@link reasonSchema} as a type. */
export type Reason = Shape<typeof reasonSchema>;
/** {@link householdCostSchema} as a type. */
export type HouseholdCost = Shape<typeof householdCostSchema>;
/** Whether acting was right; `unverified`: nobody outside the rule can tell. */
export type FiringOutcome = Firing["outcome"];
/** What a reason is about. */
export type ReasonCode = Reason["code"];
/** One of the three verdicts. */
export type Verdict = RuleFinding["verdict"];
/** The lanes of a timing diagram over a stretch of time. */
export type Excerpt = Omit<Moment, "firing">;
/** A step line of a timing diagram. */
export type Lane = Moment["lanes"][number];
/** What replaying and judging a rule gives: the finding without its drills, its settings and its months. */
export type RuleJudgement = Omit<RuleFinding, "digest" | "cumulated" | "drills" | "hostile" | "tuning">;
/** How close a rule came to firing. */
export type MarginSummary = RuleFinding["margin"];
/** A margin (null: out of reach) and the hours at it. */
export type MarginHours = MarginSummary["hoursAt"][number];
/** What is still needed if faults go on at the observed rate. */
export type AtObservedRate = RuleFinding["evidence"]["atObservedRate"];
/** The chance of at least one wrong firing within a year. */
export type YearlyChance = RuleFinding["evidence"]["chanceWithinYear"];
/** What could make a rule fire wrongly, or keep it from firing. */
export type CutSets = RuleFinding["cutSets"];
/** Minimal sets of signals and causes, smallest first. */
export type CutSetList = CutSets["firing"];
/** A minimal set of signals and causes. */
export type CutSet = CutSetList["sets"][number];
/** What is expected at the measured rates; null with a reason where a rate is not known. */
export type ExpectedFigure = CutSets["expectedMissedShare"]["independent"];
/** A set that would have sufficed, given what the others really read. */
export type PracticalSet = CutSets["inPractice"]["sets"][number];
/** Which sets would have sufficed, given what the others really read. */
export type LyingInPractice = CutSets["inPractice"];
/** Signals and causes that alone make a rule fire by lying. */
export type SinglePoints = RuleFinding["singlePoints"];

/** A near miss before it is drawn. */
export type NearMiss = Omit<NearMissFinding, "excerpt">;
