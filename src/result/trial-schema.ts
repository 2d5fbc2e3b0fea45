import { z } from "zod";
import { estimateSchema } from "./estimate-schema.js";
import { instant } from "./values.js";


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
  missedShare: estimateSchema,
  /** Median. */
  delay: estimateSchema,
});

const tunedPoint = z.strictObject({ change: z.string(), train: partFigures, heldOut: partFigures });

/** A rule's settings swept: chosen before `splitAt`, judged after it. */
export const tuningSchema = z.strictObject({
  splitAt: instant,
  tried: z.int(),
  present: tunedPoint,
  presentOnFrontier: z.boolean(),
  frontier: z.array(tunedPoint),
  suggestion: tunedPoint.nullable(),
  why: z.string(),
});
