import { z } from "zod";
import { quantity, share, type Shape } from "./values.js";

/** Bumped whenever parts or their stretches are worked out in another way: older ones are then not added. */
export const DESIGN_COUNTING = 1;

/**
 * A time during which a part's condition held while firing would have been wrong. Day number within the period, seconds
 * since local midnight, length in seconds.
 */
export const partStretchSchema = z.strictObject({
  day: z.int(),
  at: quantity,
  seconds: quantity,
  /** Two independent sensors, or the diary, say that what the part reported did happen. */
  explained: z.boolean(),
});

/** What one part of a rule did while firing would have been wrong. */
export const partHistorySchema = z.strictObject({
  /** What it listens to. */
  name: z.enum(["vehicles", "people"]),
  signals: z.array(z.string()),
  /** The longest that one report can keep it true, or that was seen. */
  longestSeconds: quantity,
  stretches: z.array(partStretchSchema),
});

/**
 * What the bound of parts that must be wrong together is worked out from. It adds up over months: days and stretches
 * are appended. Days on which nobody was at home are left out, with all that fell on them.
 */
export const designHistorySchema = z.strictObject({
  counting: z.int(),
  /** One letter a day of the period: `w` Monday to Friday, `e` weekend, `x` left out; `d` for either in a redacted result. */
  days: z.string(),
  /** Years of the days kept during which firing would have been wrong and every way of firing could be heard. */
  years: quantity,
  /** Share of that time with a vehicle in a bay and somebody at home. */
  homeShare: share,
  parts: z.tuple([partHistorySchema, partHistorySchema]),
  /** Times at which true events made both parts hold while firing would have been wrong. */
  trueTogether: z.int(),
});

/** {@link partStretchSchema} as a type. */
export type PartStretch = Shape<typeof partStretchSchema>;
/** {@link partHistorySchema} as a type. */
export type PartHistory = Shape<typeof partHistorySchema>;
/** {@link designHistorySchema} as a type. */
export type DesignHistory = Shape<typeof designHistorySchema>;

const conditionCode = z.enum(["parts", "lags", "cover", "gap", "true-together", "tests", "shared-days", "months", "contradicted", "wrong-together", "unconfirmed"]);

/** Something that must hold before parts may be taken as independent. */
export const designConditionSchema = z.strictObject({
  code: conditionCode,
  holds: z.boolean(),
  text: z.string(),
  /** What to write into the site file so that it holds, where a line does it: `within: 20 min`. */
  line: z.string().optional(),
});

/** What the road of design shows over the time at hand. Rates a year; null where nothing was seen. */
export const designFiguresSchema = z.strictObject({
  conditions: z.array(designConditionSchema),
  /** All of it: parts wrong at once by chance, and by a common cause. At most this, at every look. */
  bound: z.number().nullable(),
  byChance: z.number().nullable(),
  byCommonCause: z.number().nullable(),
  /** What sliding days against each other lets one expect; no bound. */
  slid: z.number().nullable(),
  /** The share of the rarer part's false reports that may reach the other part before the limit is passed; null where none may. */
  breakEven: share.nullable(),
  /** The part with fewer false reports, of which `breakEven` is a share; null where both have as many. */
  rarer: z.enum(["vehicles", "people"]).nullable(),
  days: z.int(),
  months: z.int(),
  /** How likely days would have as much of both parts by chance. */
  sharedDaysChance: share,
});

/** The road of design of one rule over one period. */
export const designRoadSchema = z.strictObject({
  /** What the rule's structure and its sensors fulfil, and what not. */
  conditions: z.array(designConditionSchema),
  /** What the user states in the site file, or what is taken instead. */
  commonShare: share,
  commonShareBecause: z.string().nullable(),
  noSharedHoursBecause: z.string().nullable(),
  /** Shared causes that somebody let fail on purpose: how often, how often both parts held then, and the most that may happen. */
  tests: z.array(z.strictObject({ cause: z.string(), made: z.int(), reachedBoth: z.int(), atMostShare: share })),
  /** Null where the rule has no two parts. */
  history: designHistorySchema.nullable(),
  /** Over this period alone; null where the rule has no two parts. */
  figures: designFiguresSchema.nullable(),
});

/** {@link designConditionSchema} as a type. */
export type DesignCondition = Shape<typeof designConditionSchema>;
/** {@link designFiguresSchema} as a type. */
export type DesignFigures = Shape<typeof designFiguresSchema>;
/** {@link designRoadSchema} as a type. */
export type DesignRoad = Shape<typeof designRoadSchema>;

/** The smallest limit on wrong firings a year that each road supports after this many further months; null where it supports none. */
export const limitClaimSchema = z.strictObject({ moreMonths: z.int(), byCounting: z.number().nullable(), byDesign: z.number().nullable() });

/** {@link limitClaimSchema} as a type. */
export type LimitClaim = Shape<typeof limitClaimSchema>;
