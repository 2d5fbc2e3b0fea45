/* eslint-disable @typescript-eslint/no-non-null-assertion --
   votes are lists by witness, counts lists by kind of segment, correlations a list by group */
import { sum } from "d3-array";
import type { Voice } from "./vouching.js";
import type { Observations } from "./observations.js";
import { CORRELATION_PRIOR_STRENGTH, PRIOR_CORRELATION } from "./priors.js";

/**
 * Witnesses of one subject that are connected through shared causes, by any chain; a lone one is a group of its own.
 */
export interface CauseGroup {
  readonly members: readonly number[];
  /**
   * Causes that at least two of them share; if only signals of other subjects connect them, all that the members name.
   * Sorted.
   */
  readonly causes: readonly string[];
  /**
   * Two of them were found to depend on one another: they count as one voice, since nobody has said how they differ.
   */
  readonly asOne: boolean;
}

/**
 * How alike the errors in a group are: estimated from `errorSegments` segments (fractions count), drawn to the prior.
 */
export interface GroupCorrelation {
  readonly correlation: number;
  readonly errorSegments: number;
}

/** Groups in the order of their first members. */
export function groupsOf(witnesses: readonly Voice[]): CauseGroup[] {
  return [...new Set(witnesses.map((one) => one.group))].map((group) => {
    const own = witnesses.filter((one) => one.group === group);
    const members = witnesses.flatMap((one, w) => (one.group === group ? [w] : []));
    if (members.length === 1) return { members, causes: [], asOne: false };
    const all = own.flatMap(({ shares }) => [...new Set(shares)]);
    const common = all.filter((cause, i) => all.indexOf(cause) !== i);
    return {
      members,
      causes: [...new Set(common.length > 0 ? common : all)].sort(),
      asOne: own.some(({ twins }) => own.some(({ id }) => twins.includes(id))),
    };
  });
}

/**
 * The weight of each witness's vote in each kind of segment: 1 / (1 + (g − 1) ρ), with g the voting members of its
 * group there and ρ the group's correlation: the design effect of a cluster sample, Kish (1965) (text not seen). It is
 * 1 for a witness that votes alone, 1/g when ρ = 1.
 */
export function voteWeights(observations: Observations, groups: readonly CauseGroup[], correlations: readonly number[]): number[][] {
  return observations.kinds.map(({ votes }) => {
    const weights = new Array<number>(votes.length).fill(1);
    groups.forEach(({ members }, g) => {
      const voting = members.filter((w) => votes[w] !== 2).length;
      for (const w of members) weights[w] = 1 / (1 + Math.max(0, voting - 1) * correlations[g]!);
    });
    return weights;
  });
}

/**
 * The correlation of errors in each group: the phi coefficient of "erred" and "erred" over segments in which a pair
 * votes, weighted by the posterior of the truth; pairs averaged by their number of segments with an error; then drawn
 * to {@link PRIOR_CORRELATION} as if that had been seen in {@link CORRELATION_PRIOR_STRENGTH} such segments. Between 0
 * and 1: errors that avoid each other are not rewarded. It is 1 for a group that counts as one.
 */
export function errorCorrelations(observations: Observations, groups: readonly CauseGroup[], on: Float64Array): GroupCorrelation[] {
  const onByKind = new Float64Array(observations.kinds.length);
  observations.chain.kindOf.forEach((kind, k) => (onByKind[kind]! += on[k]!));
  return groups.map(({ members, asOne }) => {
    const pairs = members.flatMap((a, i) => members.slice(i + 1).map((b) => pairErrors(observations, onByKind, a, b)));
    const errorSegments = sum(pairs, ({ errors }) => errors);
    const weighted = sum(pairs, ({ errors, phi }) => errors * phi);
    const correlation = (weighted + CORRELATION_PRIOR_STRENGTH * PRIOR_CORRELATION) / (errorSegments + CORRELATION_PRIOR_STRENGTH);
    return { correlation: asOne ? 1 : correlation, errorSegments };
  });
}

function pairErrors(observations: Observations, onByKind: Float64Array, a: number, b: number): { phi: number; errors: number } {
  let [both, onlyA, onlyB, neither] = [0, 0, 0, 0];
  observations.kinds.forEach(({ votes }, kind) => {
    const [saidA, saidB] = [votes[a]!, votes[b]!];
    if (saidA === 2 || saidB === 2) return;
    const on = onByKind[kind]!;
    const off = observations.kindCounts[kind]! - on;
    // What each pair of votes means if the truth is off, and if it is on.
    const wrongIfOff = saidA === 1 ? (saidB === 1 ? "both" : "a") : saidB === 1 ? "b" : "neither";
    if (wrongIfOff === "both") [both, neither] = [both + off, neither + on];
    else if (wrongIfOff === "neither") [both, neither] = [both + on, neither + off];
    else if (wrongIfOff === "a") [onlyA, onlyB] = [onlyA + off, onlyB + on];
    else [onlyA, onlyB] = [onlyA + on, onlyB + off];
  });
  const spread = (both + onlyA) * (onlyB + neither) * (both + onlyB) * (onlyA + neither);
  const phi = spread > 0 ? (both * neither - onlyA * onlyB) / Math.sqrt(spread) : 0;
  return { phi: Math.min(Math.max(phi, 0), 1), errors: both + onlyA + onlyB };
}
