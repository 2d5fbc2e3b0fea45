import { z } from "zod";
import { faults } from "../drills/faults.js";
import { quietStates, scenes } from "../drills/scenes.js";
import { estimateSchema } from "./estimate-schema.js";

const instant = z.iso.datetime().describe("UTC, ISO 8601, milliseconds");

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
