import { z } from "zod";
import { instant, stateWord, type Shape } from "./values.js";

const stretch = z.strictObject({ from: instant, to: instant });

/** What one lane of a scene shows: what was true, what a sensor said, the one that was wrong, what the rule did. */
const lane = z.strictObject({
  label: z.string(),
  role: z.enum(["truth", "sensor", "culprit", "rule"]),
  /** What is written into its bars while it is on: `here`, `occupied`, `open`. */
  on: z.string(),
  steps: z.array(z.tuple([instant, stateWord])),
});

/** The worst moment of a rule, as a timing diagram with its cause in it. */
const sceneSchema = z.strictObject({
  sort: z.enum(["wrong", "missed", "late", "unverified"]),
  /** When the rule acted, or should have. */
  at: instant,
  /** The firing's id; null where there was none. */
  firing: z.string().nullable(),
  from: instant,
  to: instant,
  /** In a few words. */
  title: z.string(),
  /** What happened and what it came down to: the picture in words. */
  text: z.string(),
  lanes: z.array(lane),
  /** What the culprit's lane says over which time; null where no sensor is to blame. */
  cause: z.strictObject({ lane: z.int(), from: instant, to: instant, text: z.string() }).nullable(),
  /** What the rule did: `unlocks`, `stays locked`. */
  effect: z.string(),
});

/** A bound that decides, on one of the two roads; a year. Null: no number, and the words say why. */
const roadSchema = z.strictObject({
  road: z.enum(["counting", "design"]),
  side: z.enum(["at most", "at least"]),
  perYear: z.number().nullable(),
  /** False: the bound does not count, because a condition of this road is not met. */
  holds: z.boolean(),
  /** What it rests on. */
  text: z.string(),
});

/** What to do, and why. */
const stepSchema = z.strictObject({
  sort: z.enum(["turn on", "audit again", "take off", "use another", "answer", "mend", "widen", "try better", "wait"]),
  /** For a list: `answer five questions`. */
  short: z.string(),
  text: z.string(),
  why: z.string(),
  /** What to type; null where there is nothing to type. */
  command: z.string().nullable(),
});

/** What somebody needs to decide on a rule. */
const ruleDecisionSchema = z.strictObject({
  rule: z.string(),
  /** What was seen, in a sentence or two. */
  seen: z.string(),
  /** Beside the verdict: what so short a time does not rule out; null where that is not why. */
  shortfall: z.string().nullable(),
  /** Three at most, the first one first. */
  steps: z.array(stepSchema),
  roads: z.array(roadSchema),
  /** When nobody could say whether its condition held, ten minutes or longer; empty in findings without histories. */
  unheard: z.array(stretch),
  /** Null where nothing went wrong. */
  worst: sceneSchema.nullable(),
});

/** The answer: what to do with the rules, in the order of the site. */
export const decisionSchema = z.strictObject({
  headline: z.string(),
  rules: z.array(ruleDecisionSchema),
  /** The time that the diary tells of, of whomever. */
  diary: z.array(stretch),
});

/** {@link decisionSchema} as a type. */
export type Decision = Shape<typeof decisionSchema>;
/** What somebody needs to decide on one rule. */
export type RuleDecision = Decision["rules"][number];
/** One thing to do. */
export type NextStep = RuleDecision["steps"][number];
/** A bound on one of the two roads. */
export type RoadBound = RuleDecision["roads"][number];
/** The worst moment of a rule. */
export type Scene = NonNullable<RuleDecision["worst"]>;
