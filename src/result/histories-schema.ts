import { z } from "zod";
import { type Shape } from "./values.js";

const steps = z.string().describe("a word a step: n on, f off, u unknown, then the milliseconds since the step before, base 36");

/** A part of a rule's condition. Operands stand before what they are operands of; the whole is the last. */
const conditionPart = z.strictObject({
  op: z.enum(["all", "any", "atLeast", "not", "atom"]),
  /** For `atLeast`. */
  count: z.int().nullable(),
  /** Places of the operands in the list. */
  of: z.array(z.int()),
  /** For an atom: what it says, in words, and when it was so. */
  text: z.string(),
  steps: steps.nullable(),
});

/** What everything said throughout the period: what `keyworthy explain` reads. Not in a redacted result. */
export const historiesSchema = z.strictObject({
  /** As a rule would have seen them at the time. */
  signals: z.array(z.strictObject({ signal: z.string(), subject: z.string(), steps })),
  /** What most likely was so, all witnesses and the diary together. */
  subjects: z.array(z.strictObject({ subject: z.string(), steps })),
  /** `steps`: of the whole condition. */
  rules: z.array(z.strictObject({ rule: z.string(), restMs: z.number(), steps, parts: z.array(conditionPart) })),
});

/** {@link historiesSchema} as a type. */
export type Histories = Shape<typeof historiesSchema>;
/** A part of a rule's condition as the findings keep it. */
export type ConditionPart = Shape<typeof conditionPart>;
