import { z } from "zod";
import { type Shape, share } from "./values.js";


/** One-sided bounds that decide a verdict; `wrongUpper` null: nothing was seen. */
export const boundsSchema = z.strictObject({ wrongUpper: z.number().nullable(), wrongLower: z.number(), missedUpper: share, missedLower: share });

/** Which days a rule was seen on, and how its faults came. */
export const coversSchema = z.strictObject({
  days: z.int(),
  /** Such as `2026-10`. */
  months: z.array(z.string()),
  /** Monday first; in a redacted result, the weekday of day 1 first. */
  weekdays: z.array(z.int()),
  /** Verified wrong firings by occasion, verified missed or late instants by run, and faults by day (of days that had any): sizes only. */
  wrongOccasions: z.array(z.int()),
  /** Verified missed or late instants, by the runs they came in. */
  failureRuns: z.array(z.int()),
  /** Faults of the rule and its signals, by day, of the days that had any. */
  faultsByDay: z.array(z.int()),
  /** Hours in which a firing would have been confirmed, by hour of the day, midnight first. */
  confirmedHours: z.array(z.number()),
  /** Firings and wanted instants that nobody could be expected to confirm, by their hours of the day. */
  expectedUnverified: z.strictObject({ firings: z.number(), wanted: z.number() }),
  /**
   * Firings by day and by night; in random order, those confirmed before the first that nobody could confirm (`drawn`), and the wrong
   * among them; the wrong and the unverified of all.
   */
  checked: z.array(z.strictObject({ firings: z.int(), drawn: z.int(), wrongDrawn: z.int(), wrong: z.int(), unverified: z.int() })),
  /** Variants tried on the same history, this one included. */
  variants: z.int(),
});
/** {@link coversSchema} as a type. */
export type Covers = Shape<typeof coversSchema>;
