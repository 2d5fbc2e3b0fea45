import { z } from "zod";
import { estimateSchema } from "./estimate.js";
import { type Shape, share, subjectClass } from "./values.js";


/** How one subject's reference was worked out: who its witnesses are, how often each errs, and whether that can be told at all. */
export const referenceModelSchema = z.strictObject({
  subject: z.string(),
  /** Stretches between candidate transitions; a witness has one vote in each. */
  segments: z.int(),
  /** Segments whose truth the diary knows. */
  diarySegments: z.int(),
  /** Hours by who told the truth; they add up to the period, and all but the diary's lie outside the diary. Absent in results of earlier versions. */
  known: z.strictObject({ diaryHours: z.number(), severalHours: z.number(), oneHours: z.number(), noneHours: z.number() }).optional(),
  /** Error rates are shares of segments. `value` null: cannot be told; `used` is what the model worked with all the same. */
  witnesses: z.array(
    z.strictObject({
      signal: z.string(),
      votes: z.int(),
      saysOnGivenOff: estimateSchema,
      saysOffGivenOn: estimateSchema,
      used: z.strictObject({ saysOnGivenOff: share, saysOffGivenOn: share }),
    }),
  ),
  /** Signals that share a cause: how alike their errors are, and what each vote weighs when all of them vote (1 = a full voice). */
  causes: z.array(z.strictObject({ signals: z.array(z.string()), causes: z.array(z.string()), correlation: share, errorSegments: z.number(), weight: share })),
  /** How often something of another class moved nearby when the subject truly changed, and at false boundaries. */
  movements: z.array(z.strictObject({ class: subjectClass, givenChange: share, givenNone: share })),
  /** Whether what was seen shows the error rates; if not they are held at the prior. */
  identified: z.boolean(),
  why: z.string(),
  iterations: z.int(),
  /** What the last iteration added to the penalised log-likelihood. */
  gain: z.number(),
  converged: z.boolean(),
});

/** Two signals that coincide more than chance and the truth allow. They count as one witness unless the site file says why they are independent. */
export const dependenceSchema = z.strictObject({
  signals: z.tuple([z.string(), z.string()]),
  /** What gives them away: the instants of their turns, errors at the same time, or silences at the same time. */
  how: z.enum(["turns", "errors", "silences"]),
  /** What was seen, with its numbers. */
  text: z.string(),
  /** The site file says that they are independent, and why: then they count as two all the same. */
  declaredIndependent: z.boolean(),
});
/** {@link referenceModelSchema} as a type. */
export type ReferenceModel = Shape<typeof referenceModelSchema>;
/** One witness of a reference. */
export type WitnessModel = ReferenceModel["witnesses"][number];
/** Witnesses that share a cause. */
export type CauseModel = ReferenceModel["causes"][number];
/** What movements nearby tell. */
export type MovementModel = ReferenceModel["movements"][number];
/** {@link dependenceSchema} as a type. */
export type Dependence = Shape<typeof dependenceSchema>;
