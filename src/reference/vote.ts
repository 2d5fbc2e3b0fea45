import { OFF, ON, UNKNOWN, type TruthState } from "../timeline/timeline.js";
import type { ReferenceSegment } from "./reference.js";

/**
 * How often one independent voice is taken to be wrong about a segment before anything is known of it (a share).
 * One in twenty: a sensor that were worse would be thrown out, one that is better must first show it. It only
 * sets how probable a verdict of the vote is called, never which state wins. Common practice, no source.
 */
export const PRIOR_ERROR_SHARE = 0.05;

/** Weights are sums of few fractions like 1/3; a difference below this (no unit) is rounding, hence a tie. */
export const TIE_TOLERANCE = 1e-9;

/** A signal that may speak for a subject. */
export interface Voter {
  readonly id: string;
  /** Shared causes: voters that have one in common have one voice between them. */
  readonly shares: readonly string[];
}

/** What is known of a subject over a stretch, and from whom. */
export type Finding = Pick<ReferenceSegment, "state" | "probability" | "basis" | "vouchers">;

/** Nobody can tell. */
export const NO_FINDING: Finding = { state: UNKNOWN, probability: 0.5, basis: "none", vouchers: [] };

/**
 * A weighted vote. `states[i]` is what `voters[i]` says; unknown abstains. A voter weighs 1 divided by the largest number
 * of known voters that share any one cause with it (itself included). The heavier side wins; with a margin of `w` voices
 * it is right with probability `1 / (1 + (e / (1 − e))^w)`, where `e` is {@link PRIOR_ERROR_SHARE}: Bayes' rule
 * for independent voices that err with share `e`, before which both states are equally likely.
 * A tie is unknown, vouched for by nobody. `vouchers` are in the order of `voters`. The basis is "several" when two winners
 * share no cause (what fools the one need not fool the other) and each has more winners than losers among those that
 * share a cause with it: a board whose signals contradict each other stands behind nothing.
 */
export function vote(voters: readonly Voter[], states: readonly TruthState[]): Finding {
  const known = voters.filter((_, i) => states[i] !== UNKNOWN);
  let margin = 0;
  voters.forEach((voter, i) => {
    if (states[i] === UNKNOWN) return;
    const weight = weightAmong(voter, known);
    margin += states[i] === ON ? weight : -weight;
  });
  if (Math.abs(margin) < TIE_TOLERANCE) return NO_FINDING;
  const state = margin > 0 ? ON : OFF;
  const winners = voters.filter((_, i) => states[i] === state);
  const losers = known.filter((voter) => !winners.includes(voter));
  return {
    state,
    probability: 1 / (1 + (PRIOR_ERROR_SHARE / (1 - PRIOR_ERROR_SHARE)) ** Math.abs(margin)),
    basis: someAreIndependent(winners.filter((one) => carries(one, winners, losers))) ? "several" : "one",
    vouchers: winners.map((winner) => winner.id),
  };
}

function weightAmong(voter: Voter, known: readonly Voter[]): number {
  const sharing = voter.shares.map((cause) => known.filter((other) => other.shares.includes(cause)).length);
  return 1 / Math.max(1, ...sharing);
}

function haveCommonCause(one: Voter, other: Voter): boolean {
  return one.shares.some((cause) => other.shares.includes(cause));
}

/** The winner's own surroundings, itself included, say what it says. */
function carries(winner: Voter, winners: readonly Voter[], losers: readonly Voter[]): boolean {
  const agreeing = winners.filter((other) => other === winner || haveCommonCause(winner, other)).length;
  return agreeing > losers.filter((other) => haveCommonCause(winner, other)).length;
}

function someAreIndependent(carriers: readonly Voter[]): boolean {
  return carriers.some((one, i) => carriers.slice(i + 1).some((other) => !haveCommonCause(one, other)));
}
