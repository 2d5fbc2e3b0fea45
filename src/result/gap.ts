import { z } from "zod";
import { instant, type Shape } from "./values.js";

/** Whether a rule can act wrongly while every sensor tells the truth within its lag. */
export const gapSchema = z.strictObject({
  /** False where the question was left open; `why` then says so. */
  searched: z.boolean(),
  why: z.string().nullable(),
  /** The gap with the fewest events; null where there is none. */
  scene: z
    .strictObject({
      text: z.string(),
      changes: z.int(),
      /** Within how long the events must fall together; null where one late report is enough. */
      widthSeconds: z.number().nullable(),
      /** How often that would come about a year, if its events have nothing to do with each other; null where that cannot be said. */
      perYear: z.number().nullable(),
    })
    .nullable(),
  /** Up to which lag of one kind of signal there is no gap, the others as measured; null seconds: no limit was found up to an hour, or there is a gap anyway. */
  freeUntil: z.array(z.strictObject({ kind: z.string(), signals: z.array(z.string()), seconds: z.number().nullable(), measuredSeconds: z.number(), ends: z.enum(["gap", "no-gap", "gap-anyway"]) })),
});

/** A firing that is right, though by other events than those the rule went by. */
export const twoEventsSchema = z.strictObject({
  at: instant,
  how: z.enum(["another", "apart"]),
  sentence: z.string(),
  /** The `right_when` by which it would not be right, as site-file text; null where shorter windows do not do that. */
  rightWhen: z.string().nullable(),
});

/** {@link gapSchema} as a type. */
export type GapFinding = Shape<typeof gapSchema>;
/** {@link twoEventsSchema} as a type. */
export type TwoEventsFinding = Shape<typeof twoEventsSchema>;
