import { z } from "zod";
import { estimateSchema } from "./estimate.js";
import { instant, type Shape } from "./values.js";


/** The faults that are put into the history, one at a time. */
export const faults = ["stuck on", "stuck off", "late by 1 min", "late by 5 min", "late by 15 min", "silent", "flapping", "restart"] as const;

/** One of {@link faults}. */
export type Fault = (typeof faults)[number];

/** The hostile cases that a rule which lets someone in is put through. */
export const scenes = ["someone opens the door while a phone is inside the radius", "a phone's position is forged", "a stranger's vehicle in the bay", "a power cut and return"] as const;
/** One of {@link scenes}. */
export type Scene = (typeof scenes)[number];

/** How everything stood, and had stood for long, when it happens. */
export const quietStates = ["house empty", "people home asleep"] as const;
/** One of {@link quietStates}. */
export type QuietState = (typeof quietStates)[number];

/** One fault in one signal, or in all signals of one shared cause, over the whole history. */
export const drillSchema = z.strictObject({
  on: z.enum(["signal", "cause"]),
  name: z.string(),
  fault: z.enum(faults),
  /** With the fault in. */
  firings: z.int(),
  /** Against the plain replay; a firing that only moved within the tolerance is neither. */
  gained: z.int(),
  lost: z.int(),
  /** Of those gained, by the facts as they were without the fault. */
  wrongGained: z.int(),
  unverifiedGained: z.int(),
  /** Wanted instants missed with the fault in and not without it. */
  missedGained: z.int(),
});

/** A hostile scene played from a quiet state to a rule that lets someone in. */
export const hostileCaseSchema = z.strictObject({ scene: z.enum(scenes), state: z.enum(quietStates), unlocks: z.boolean(), why: z.string() });

const partFigures = z.strictObject({
  firings: z.int(),
  wrong: z.int(),
  unverified: z.int(),
  wanted: z.int(),
  late: z.int(),
  missed: z.int(),
  /** Unverified taken as wrong. */
  wrongPerYear: estimateSchema,
  /** Missed or late. */
  missedShare: estimateSchema,
  /** Median. */
  delay: estimateSchema,
});

const tunedPoint = z.strictObject({ change: z.string(), train: partFigures, heldOut: partFigures });

/** A rule's settings swept: chosen before `splitAt`, judged after it. */
export const tuningSchema = z.strictObject({
  /** Epoch milliseconds: settings are chosen on what is before, judged on what is after. */
  splitAt: instant,
  /** Settings tried, the present one not counted. */
  tried: z.int(),
  present: tunedPoint,
  /** The present setting is one of the best on the first part. */
  presentOnFrontier: z.boolean(),
  /**
   * On the first part no other setting is as good in every aim and better in one. Fewest wrong first; of equals,
   * one.
   */
  frontier: z.array(tunedPoint),
  /** Better than the present one on both parts; null where there is none. */
  suggestion: tunedPoint.nullable(),
  /** Why it is suggested, or why nothing is. */
  why: z.string(),
});
/** {@link drillSchema} as a type. */
export type Drill = Shape<typeof drillSchema>;
/** {@link hostileCaseSchema} as a type. */
export type HostileCase = Shape<typeof hostileCaseSchema>;
/** {@link tuningSchema} as a type. */
export type RuleTuning = Shape<typeof tuningSchema>;
/** Settings with their figures on both parts of the history. */
export type TunedPoint = Shape<typeof tunedPoint>;
/** A rule's figures on one part of the history. */
export type PartFigures = Shape<typeof partFigures>;
