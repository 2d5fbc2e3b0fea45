import { z } from "zod";
import type { Shape } from "./values.js";

/** One thing to mend, with what it does to which rule. */
export const mendSchema = z.strictObject({
  /** `pair`: one of two signals is wrong, and nobody can tell which. `subject`: a bay of which several sensors said the same that was not so. */
  what: z.enum(["signal", "band", "clock", "cause", "pair", "subject"]),
  /** The signal, source, shared cause or bay; two signals with a comma. */
  target: z.string(),
  /** What to do, in a sentence. */
  text: z.string(),
  /** The numbers that say that something is wrong with it, and the worst that it did. */
  why: z.string(),
  rules: z.array(
    z.strictObject({
      rule: z.string(),
      /** Over the period: wrong firings put down to it, unverified ones in a false report of its, and wanted instants that failed by it. */
      wrong: z.int(),
      maybeWrong: z.int(),
      failed: z.int(),
      /** Firings that cannot be judged because of it; with silences, how many there would be at the present rate. */
      unjudged: z.int(),
      /** Times at which it said the wrong thing and one other signal alone kept the rule from acting wrongly. */
      nearly: z.int(),
      /** Wrong firings to be expected by how often it lies, where that is more than is accepted and none has happened yet; 0 elsewhere. */
      expected: z.number(),
      /** What it did, the gravest first: `6 of 10 wrong unlocks`. */
      did: z.array(z.string()).min(1),
    }),
  ),
  /**
   * By which the list is ordered, the largest first: points in 30 days, ten for a wrong firing, seen or expected, three for one that may
   * be or that cannot be judged, one for a wanted instant that failed, a tenth for one that nearly went wrong.
   */
  weight: z.number(),
});

/** {@link mendSchema} as a type. */
export type Mend = Shape<typeof mendSchema>;
/** What a thing to mend did to a rule. */
export type MendEffect = Mend["rules"][number];
