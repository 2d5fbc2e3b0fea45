/* eslint-disable @typescript-eslint/no-non-null-assertion --
   clusters, their instants and their boundaries are parallel lists, as are the changes of a witness; each index runs
   below their length */
import type { Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { medianOf } from "../../statistics/median.js";
import { OFF, ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { type Cluster, clusterChanges, type ClusterChange } from "./clusters.js";
import type { Witness } from "./witness.js";
import { lookUp } from "../../ground/look-up.js";

/**
 * Where one segment ends and the next begins. `to` is the direction of the changes; null where only the diary begins or
 * ends.
 */
export interface Boundary {
  readonly instant: number;
  readonly to: 0 | 1 | null;
  readonly members: readonly ClusterChange[];
}

/**
 * A subject's history cut into segments: boundary b ends segment b and begins segment b + 1, so there is one segment
 * more. `votes[w][k]`: what witness w says in segment k, unknown when it was dark all through. `written[k]`: what the
 * diary says there.
 */
export interface Layout {
  readonly boundaries: readonly Boundary[];
  readonly votes: readonly Uint8Array[];
  readonly written: Uint8Array;
}

/**
 * Cuts the period at the candidate transitions and where the diary begins, changes or ends. A boundary stands at the
 * median of its members' seen changes, uncorrected: a lag that all of them share cannot be known without the diary. A
 * witness's vote in a segment is the state its own changes have led to, so lag within a cluster is no error. An edge of
 * the diary close to a fitting cluster is that cluster.
 */
export function layOut(witnesses: readonly Witness[], written: Timeline, period: Interval, windowMs: number): Layout {
  const { clusters, clusterOf } = clusterChanges(
    witnesses.map((one) => one.changes),
    windowMs,
  );
  const instants = instantsOf(clusters);
  const pieces = diaryPieces(written);

  // 1. Diary edges that no cluster stands for are boundaries of their own.
  const clusterAt = (instant: number, to: 0 | 1): number => nearestCluster(clusters, instants, instant, to, windowMs);
  const alone = new Set<number>();
  for (const { from, to, state } of pieces) {
    if (from > period.from && clusterAt(from, state) < 0) alone.add(from);
    if (to < period.to && clusterAt(to, opposite(state)) < 0) alone.add(to);
  }
  const extra = [...alone].sort((a, b) => a - b);
  const { boundaries, boundaryOfCluster, boundaryOfExtra } = merged(clusters, instants, extra);

  // 2. The diary's word on whole segments.
  const saidInDiary = new Uint8Array(boundaries.length + 1).fill(UNKNOWN);
  const boundaryAt = (instant: number, to: 0 | 1): number => {
    const cluster = clusterAt(instant, to);
    return cluster >= 0 ? boundaryOfCluster[cluster]! : lookUp(boundaryOfExtra, instant);
  };
  for (const { from, to, state } of pieces) {
    const first = from > period.from ? boundaryAt(from, state) + 1 : 0;
    const last = to < period.to ? boundaryAt(to, opposite(state)) : boundaries.length;
    if (first <= last) saidInDiary.fill(state, first, last + 1);
  }

  // 3. Votes.
  const starts = Float64Array.from([period.from, ...boundaries.map((one) => one.instant)]);
  const votes = witnesses.map((one, w) => votesOf(one, clusterOf[w]!, boundaryOfCluster, starts, period.to));
  return { boundaries, votes, written: saidInDiary };
}

function votesOf(witness: Witness, clusterOf: Int32Array, boundaryOfCluster: Int32Array, starts: Float64Array, end: number): Uint8Array {
  const { account, changes } = witness;
  const votes = new Uint8Array(starts.length).fill(UNKNOWN);
  const firstKnown = account.states.find((state) => state !== UNKNOWN);
  if (firstKnown === undefined) return votes;
  let state = firstKnown;
  let change = 0;
  let step = 0;
  for (let k = 0; k < starts.length; k += 1) {
    while (change < clusterOf.length && boundaryOfCluster[clusterOf[change]!]! < k) {
      state = changes.to[change]!;
      change += 1;
    }
    const from = starts[k]!;
    const to = Math.max(starts[k + 1] ?? end, from + 1);
    while (step + 1 < account.times.length && account.times[step + 1]! <= from) step += 1;
    for (let i = step; i < account.times.length && (i === step || account.times[i]! < to); i += 1) {
      if (account.states[i] === UNKNOWN) continue;
      votes[k] = state;
      break;
    }
  }
  return votes;
}

/** Never going back in time, though a long cluster's median may lie after the next one's. Whole milliseconds. */
function instantsOf(clusters: readonly Cluster[]): Float64Array {
  const instants = new Float64Array(clusters.length);
  let latest = -Infinity;
  clusters.forEach(({ members }, c) => {
    const seen = members.filter((one) => one.seen);
    const middle = medianOf((seen.length > 0 ? seen : members).map((one) => one.at));
    if (middle !== null) latest = Math.max(latest, Math.round(middle));
    instants[c] = latest;
  });
  return instants;
}

function merged(
  clusters: readonly Cluster[],
  instants: Float64Array,
  extra: readonly number[],
): { boundaries: Boundary[]; boundaryOfCluster: Int32Array; boundaryOfExtra: Map<number, number> } {
  const boundaries: Boundary[] = [];
  const boundaryOfCluster = new Int32Array(clusters.length);
  const boundaryOfExtra = new Map<number, number>();
  let next = 0;
  const addExtra = (before: number): void => {
    while (next < extra.length && extra[next]! < before) {
      boundaryOfExtra.set(extra[next]!, boundaries.length);
      boundaries.push({ instant: extra[next]!, to: null, members: [] });
      next += 1;
    }
  };
  clusters.forEach(({ to, members }, c) => {
    addExtra(instants[c]!);
    boundaryOfCluster[c] = boundaries.length;
    boundaries.push({ instant: instants[c]!, to, members });
  });
  addExtra(Infinity);
  return { boundaries, boundaryOfCluster, boundaryOfExtra };
}

function diaryPieces(written: Timeline): (Interval & { state: 0 | 1 })[] {
  return [...written.times].flatMap((from, i) => {
    const state = written.states[i];
    return state === OFF || state === ON ? [{ from, to: written.times[i + 1] ?? written.end, state }] : [];
  });
}

function opposite(state: 0 | 1): 0 | 1 {
  return state === ON ? OFF : ON;
}

/**
 * The cluster in direction `to` nearest to `instant`, at most `windowMs` away, the earlier of equals; −1 for none.
 * `instants` never fall.
 */
function nearestCluster(clusters: readonly Cluster[], instants: Float64Array, instant: number, to: 0 | 1, windowMs: number): number {
  let best = -1;
  let distance = Infinity;
  for (let c = firstAtOrAfter(instants, instant - windowMs); c < instants.length && instants[c]! <= instant + windowMs; c += 1) {
    const apart = Math.abs(instants[c]! - instant);
    if (clusters[c]!.to !== to || apart >= distance) continue;
    best = c;
    distance = apart;
  }
  return best;
}
