import type { SubjectClass } from "../../site/site.js";

/** A Beta prior of a share: `alpha − 1` successes and `beta − 1` failures seen beforehand. */
export interface BetaPrior {
  readonly alpha: number;
  readonly beta: number;
}

/**
 * Changes of one subject's witnesses in one direction within this time of the first are one candidate transition, so
 * that a lag makes no segment of its own (milliseconds). Contacts answer at once; a distance meter that reports every
 * three minutes and settles lags up to four; a phone may take many minutes to notice a network. Our own choice.
 */
export const CLUSTER_MS: Readonly<Record<SubjectClass, number>> = { door: 30_000, bay: 300_000, person: 600_000 };

/**
 * A witness's changes this close to one another are one bouncing (milliseconds): nobody opens and closes a door in
 * less. Our own choice.
 */
export const BOUNCE_MS = 2_000;

/**
 * A movement of another subject this close to a candidate transition counts as evidence about it (milliseconds). Our
 * own choice: as long as a bay's cluster.
 */
export const NEARBY_MS = 300_000;

/**
 * How often an independent witness is taken to be wrong about a segment before anything is known of it (a share): the
 * mode of {@link ERROR_PRIOR}, and the rate that is used where nothing can be learnt. One in twenty: a worse sensor
 * would be thrown out, a better one must first show it. Our own choice.
 */
export const PRIOR_ERROR_SHARE = 0.05;

/**
 * Of both error rates of every witness: as if 5 segments had been seen before, a quarter of one misjudged. Weak on
 * purpose. Our own choice.
 */
export const ERROR_PRIOR: BetaPrior = { alpha: 1.25, beta: 5.75 };

/**
 * No witness is taken to be wrong more often than this in either state: the mirror solution, in which all of them lie,
 * is excluded. Our own choice.
 */
export const MOST_ERROR_SHARE = 0.45;

/** Of the share of boundaries at which the subject truly changes: weakly about one half. Our own choice. */
export const SWITCH_PRIOR: BetaPrior = { alpha: 2, beta: 2 };

/**
 * The chain never takes a boundary to be likelier a transition than not before it looks at the votes. Boundaries stand
 * only where a witness changed, so of good witnesses nearly all are true; a chain that had learnt this would make a
 * transition of one flap that two others deny. Our own choice.
 */
export const MOST_SWITCH_SHARE = 0.5;

/** Of the share of true transitions with a movement of another class nearby: weakly about one half. Our own choice. */
export const MOVED_PRIOR: BetaPrior = { alpha: 2, beta: 2 };

/**
 * The share of false boundaries with a movement nearby is taken to be the share of *all* time with one nearby, as if so
 * many false boundaries had been seen: a false change comes at any time. Our own choice.
 */
export const STAY_PRIOR_STRENGTH = 20;

/**
 * Shares of movements nearby stay within this of 0 and 1, so that one missing movement never settles anything alone.
 * Our own choice.
 */
export const MOVED_MARGIN = 0.02;

/** Below this probability of the likelier state the reference says unknown. Our own choice: odds of nine to one. */
export const LEAST_PROBABILITY = 0.9;

/** No witness makes the reference more certain than this; only the diary is (probability 1). */
export const MOST_PROBABILITY = 0.999999;

/**
 * No state is believed more than this when one group more says so than denies it; of two more,
 * {@link MOST_BY_TWO_MORE}. As if one pair of witnesses in ten depended on something that nobody declared (the
 * rules' prior for common causes), and such a pair were wrong half of the times that a third denies it, or one time in
 * ten that nobody does. Our own choice.
 */
export const MOST_BY_ONE_MORE = 0.95;
/** See {@link MOST_BY_ONE_MORE}. */
export const MOST_BY_TWO_MORE = 0.99;

/**
 * How alike the errors of witnesses with a shared cause are before any error was seen (a correlation). Our own choice:
 * half way to being one witness.
 */
export const PRIOR_CORRELATION = 0.5;

/** The prior correlation weighs as much as this many segments in which at least one of a pair erred. Our own choice. */
export const CORRELATION_PRIOR_STRENGTH = 5;

/**
 * What lets rates be learnt (our own choices): segments judged by enough groups, boundaries with evidence, diary
 * segments a state.
 */
export const LEAST_JOINT_SEGMENTS = 20;
/**
 * Movements nearby identify two witnesses when they are this much commoner at true transitions than elsewhere (a
 * difference of shares).
 */
export const LEAST_NEARBY_CONTRAST = 0.4;
/** Diary segments of each state that every witness must have voted in for the diary to identify the rates. */
export const LEAST_DIARY_SEGMENTS = 5;

/**
 * A person writes times to the quarter of an hour: between the diary's edge and the witness's change that belongs to it
 * lies no error if it is no longer than this (milliseconds). Our own choice.
 */
export const DIARY_EDGE_MS = 900_000;

/**
 * In the diary a segment counts as one look from this many times {@link CLUSTER_MS} on, a shorter one by its length: 2
 * min of a door, 20 of a bay. Our own choice.
 */
export const FULL_LOOK_CLUSTERS = 4;

/**
 * Only with this confidence (one-sided) that a witness errs more often than {@link PRIOR_ERROR_SHARE} does the diary
 * make it worse than that. Our own choice.
 */
export const DIARY_CONFIDENCE = 0.99;

/**
 * Learning stops when an iteration adds less than this to the penalised log-likelihood, or at {@link MOST_ITERATIONS}.
 */
export const LEAST_GAIN = 1e-5;
/** See {@link LEAST_GAIN}. */
export const MOST_ITERATIONS = 300;
