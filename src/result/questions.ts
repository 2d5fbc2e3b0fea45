import { z } from "zod";
import { instant, type Shape, verdict } from "./values.js";

/** A time of one subject. */
const stretch = z.strictObject({ subject: z.string(), from: instant, to: instant });

/**
 * One thing that a person may remember: an arrival, a habit, a vehicle. Nothing in it says what the sensors told, nor which answer
 * would help a rule.
 */
export const questionSchema = z.strictObject({
  /** The same in every audit of the same history. */
  id: z.string(),
  sort: z.enum(["event", "routine", "vehicle"]),
  text: z.string(),
  /**
   * Two or more, each with the rows it writes into the diary, as they stand. Whoever asks offers "don't know" besides: it writes
   * `about` without a state.
   */
  answers: z.array(z.strictObject({ says: z.string(), rows: z.array(z.strictObject({ ...stretch.shape, state: z.string() })) })),
  /**
   * The days of a routine. One that is excepted takes all rows with it that overlap it, and is written without a state: it was asked
   * about. Empty for the other sorts.
   */
  days: z.array(z.strictObject({ says: z.string(), from: instant, to: instant })),
  /** What is asked about; of a routine its days and, within them, the times that would be asked about one by one. */
  about: z.array(stretch),
  /** The time whose sensors may be shown on request. */
  around: z.strictObject({ from: instant, to: instant }),
  /** It was answered before, and everything else contradicts the answer. */
  again: z.boolean(),
  /** The rules it bears on, and their firings (ids) and wanted instants. */
  rules: z.array(z.string()),
  moments: z.array(z.string()),
});

/** What to ask, the most telling first, and what answers can do. */
export const questionsSchema = z.strictObject({
  /** Empty where no answers can change a verdict. */
  list: z.array(questionSchema),
  rules: z.array(
    z.strictObject({
      rule: z.string(),
      verdict,
      unverifiedFirings: z.int(),
      unverifiedWanted: z.int(),
      /** Of the unverified firings, those after the last day of the diary. */
      afterDiary: z.int(),
      /** Verdicts that answers could lead to, the present one not among them. */
      could: z.array(verdict),
      /** The fewest questions whose answers could change the verdict; null where no answers can. */
      settledBy: z.int().nullable(),
      /** How many of these wait for the answers to others, and may not be asked at all. */
      waiting: z.int(),
      /** In words: what answers can do here, or why they can do nothing. */
      why: z.string(),
    }),
  ),
  /** What every rule's `settledBy` comes to together, a question that several rules share counted once; and how many of these wait. */
  settling: z.strictObject({ count: z.int(), waiting: z.int() }),
  /** Where the diary ends; null without a diary. */
  diaryEnds: instant.nullable(),
});

/** {@link questionSchema} as a type. */
export type Question = Shape<typeof questionSchema>;
/** One answer to choose. */
export type Answer = Question["answers"][number];
/** {@link questionsSchema} as a type. */
export type Questions = Shape<typeof questionsSchema>;
/** What answers can do for one rule. */
export type RuleQuestions = Questions["rules"][number];
