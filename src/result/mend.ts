import { z } from "zod";
import type { Shape } from "./values.js";

/** One thing to mend, with what it does to which rule. */
export const mendSchema = z.strictObject({
  what: z.enum(["signal", "band", "clock", "cause"]),
  /** The signal, source or shared cause. */
  target: z.string(),
  /** What to do, in a sentence. */
  text: z.string(),
  /** The numbers that say that something is wrong with it. */
  why: z.string(),
  rules: z.array(
    z.strictObject({
      rule: z.string(),
      /** Wrong firings of which it is the culprit, unverified ones in a false report of its, and wanted instants that failed by it. */
      wrong: z.int(),
      maybeWrong: z.int(),
      failed: z.int(),
      text: z.string(),
    }),
  ),
  /** By which the list is ordered, the largest first: ten for a wrong firing, three for one that may be, one for a wanted instant that failed. */
  weight: z.number(),
});

/** {@link mendSchema} as a type. */
export type Mend = Shape<typeof mendSchema>;
