import { z } from "zod";
import { estimateSchema } from "./estimate.js";
import { act, instant, type Shape } from "./values.js";

/**
 * What a rule did on one part of the history. Verified by the diary alone: neither the rule nor a proposal is a witness
 * in its own cause, and together they may listen to every sensor. Elsewhere all sensors together say how it looks.
 */
const figures = z.strictObject({
  firings: z.int(),
  /** By the diary. */
  wrong: z.int(),
  /** The diary does not tell; all sensors together say that it was wrong, ... */
  looksWrong: z.int(),
  /** ... or cannot tell. */
  unclear: z.int(),
  wanted: z.int(),
  late: z.int(),
  missed: z.int(),
  /** Those that look wrong or unclear taken as wrong. The interval allows for the number of rules looked at on this part. */
  wrongPerYear: estimateSchema,
  /** Missed or late. The same holds for its interval. */
  missedShare: estimateSchema,
  /** Median. */
  delay: estimateSchema,
});

/** What another rule would have done at one of the worst moments of the present one. */
const moment = z.strictObject({
  at: instant,
  /** What the present rule did. */
  was: z.enum(["wrong", "looks wrong", "late", "missed"]),
  /** What the other one would have done. */
  becomes: z.enum(["fires too", "does not fire", "in time", "late", "missed"]),
});

/** Why a proposal does better, where that can be told from the moments it mends. */
const reasons = ["longer windows", "hears more", "does without", "asks for more", "own person", "longer hold", "mixed"] as const;

const proposal = z.strictObject({
  /** Text to be put under `rules:` in the site file. */
  yaml: z.string(),
  condition: z.string(),
  /** The fewest signals and shared causes that must lie together to make it act. */
  groups: z.int(),
  /** Parts of its condition that speak of one signal each. */
  conditions: z.int(),
  train: figures,
  heldOut: figures,
  /** Whether it can act wrongly while every sensor is truthful, in words. */
  gap: z.string(),
  /** Wrong firings a year as reckoned from how often its parts report falsely, on the first part of the history; null where that is not possible. */
  byDesignPerYear: z.number().nullable(),
  /** What `right_when` would have to be for the reckoning by design, where it is too short now. */
  rightWhenNote: z.string().nullable(),
  /** In time order; the worst come first where there are too many to list. */
  moments: z.array(moment),
  /** Of the present rule's wrong firings (those that look wrong too) and of its late or missed moments: all, and those mended. */
  mended: z.strictObject({ wrong: z.int(), wrongOf: z.int(), missed: z.int(), missedOf: z.int() }),
  reason: z.enum(reasons),
  why: z.string(),
});

/** Other rules found for one that is not clear: chosen before `splitAt`, judged after it. */
export const proposalsSchema = z.strictObject({
  rule: z.string(),
  act,
  splitAt: instant,
  /** Rules tried on the first part. */
  tried: z.int(),
  /** Of those, looked at on the rest too: each gets its share of the permitted error. */
  lookedAt: z.int(),
  present: z.strictObject({ train: figures, heldOut: figures }),
  /** One for each number of groups, fewest first; empty where nothing better was found. */
  proposals: z.array(proposal),
  /** What was found, or why nothing was. */
  why: z.string(),
});

/** {@link proposalsSchema} as a type. */
export type RuleProposals = Shape<typeof proposalsSchema>;
/** A rule that does better. */
export type Proposal = Shape<typeof proposal>;
/** A moment at which the present rule was wrong, late or missing. */
export type ProposalMoment = Shape<typeof moment>;
/** A rule's figures on one part of the history. */
export type ProposalFigures = Shape<typeof figures>;
