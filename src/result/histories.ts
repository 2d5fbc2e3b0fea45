import { z } from "zod";
import { type Shape } from "./values.js";

const steps = z.string().regex(/^[nfu][0-9a-z]{1,10}(?: [nfu][0-9a-z]{1,10})*$/).describe("a word a step: n on, f off, u unknown, then the milliseconds since the step before, base 36");

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

/** Whether the parts are a tree, operands first: else whoever follows it would go round without end. */
function isTree(parts: readonly { readonly of: readonly number[] }[]): boolean {
  const places = parts.flatMap(({ of }) => of);
  return parts.every(({ of }, own) => of.every((place) => place >= 0 && place < own)) && new Set(places).size === places.length;
}

/** What everything said throughout the period: what `keyworthy explain` reads. Not in a redacted result. */
export const historiesSchema = z.strictObject({
  /** As a rule would have seen them at the time. */
  signals: z.array(z.strictObject({ signal: z.string(), subject: z.string(), steps })),
  /** What most likely was so, all witnesses and the diary together. */
  subjects: z.array(z.strictObject({ subject: z.string(), steps })),
  /** `steps`: of the whole condition. */
  rules: z.array(z.strictObject({ rule: z.string(), restMs: z.number(), steps, parts: z.array(conditionPart).refine(isTree, "Expected every part behind its operands, and each part as one operand at most") })),
});

/** {@link historiesSchema} as a type. */
export type Histories = Shape<typeof historiesSchema>;
/** A part of a rule's condition as the findings keep it. */
export type ConditionPart = Shape<typeof conditionPart>;
