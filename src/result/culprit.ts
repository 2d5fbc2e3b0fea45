import { z } from "zod";
import { instant, type Shape } from "./values.js";

/**
 * What exactly went wrong at a wanted instant that was late or missed, or at a wrong firing: the one condition it came
 * down to. The words of `text` are made from the rest.
 */
export const culpritSchema = z.strictObject({
  /** The signal of that condition; null where no signal is to blame. */
  signal: z.string().nullable(),
  /** The condition in words; empty where no signal is to blame. */
  condition: z.string(),
  /**
   * `window ended`: a window (within, recently) closed too early. `too late`: the signal turned too late.
   * `held too long`: it turned in time, but was to last longer than there was time for. `no longer so`: it had been so
   * and had ended. `said the opposite`: it said the opposite all the while. `silent`: it said nothing. `already so`: it
   * had been so before, so it could not turn. `came back`: it had dropped out, and its return looked like an arrival.
   * `did not happen`: the signal told the truth, and what the rule asks for did not happen. `other`: a condition of
   * another form was not so. `already true`: the condition had been true all along. `at rest`: the rule rested after an
   * earlier firing. `none lied`: every signal was right, and the rule asks too little.
   */
  what: z.enum([
    "window ended", "too late", "held too long", "no longer so", "said the opposite", "silent", "already so", "came back", "did not happen", "other",
    "already true", "at rest", "none lied",
  ]),
  /** When the signal said the opposite, was silent, had ended or had dropped out; null where that has no beginning or end. */
  from: instant.nullable(),
  to: instant.nullable(),
  /** By how much it failed: how much too late, too early or too long. Null where no amount would have mattered. */
  bySeconds: z.number().nullable(),
  /** What the window, the holding or `recently` would have to be, rounded to what one writes. Null: no such value would have served. */
  wouldServeSeconds: z.number().nullable(),
  /** Further signals that were in the way as well, or lied as well, sorted. */
  signals: z.array(z.string()),
  text: z.string(),
});

/** {@link culpritSchema} as a type. */
export type Culprit = Shape<typeof culpritSchema>;
