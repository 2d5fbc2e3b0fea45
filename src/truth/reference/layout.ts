/* eslint-disable @typescript-eslint/no-non-null-assertion --
   clusters, their instants and their boundaries are parallel lists, as are the changes of a witness; each index runs
   below their length */
import type { Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { medianOf } from "../../statistics/median.js";
import { OFF, ON, type Timeline, UNKNOWN } from "../../timeline/timeline.js";
import { type Cluster, clusterChanges, type ClusterChange } from "./clusters.js";
import type { DoorUse } from "../stirs/door-uses.js";
import type { StirBoundary } from "../stirs/stir-rates.js";
import type { Witness } from "./witness.js";
import { DIARY_EDGE_MS } from "./priors.js";
import { lookUp } from "../../ground/look-up.js";

/**
 * Where one segment ends and the next begins. `to` is the direction of the changes; null where only the diary begins or
 * ends.
 */
export interface Boundary {
  readonly instant: number;
  readonly to: 0 | 1 | null;
  readonly members: readonly ClusterChange[];
  /** Of a person with stir signals: what else may lie there than a change of a witness or of the diary. */
  readonly sort?: StirBoundary;
  /** The use of a door that it is; it dates the turn ({@link turnInstant}). */
  readonly use?: DoorUse;
}

/** Whether only the diary begins or ends there. */
export function isDiaryEdge({ members, to, sort }: Boundary): boolean {
  return members.length === 0 && to === null && (sort === undefined || sort === "written");
}

/**
 * When the state changes at a boundary, if it does: whoever leaves is gone when the door shuts, whoever comes is here when it
 * opens.
 */
export function turnInstant({ instant, use }: Boundary, to: 0 | 1): number {
  return use === undefined ? instant : to === ON ? use.opened : use.shut;
}

/** Where a person with stir signals may come or go besides where witnesses change. */
export interface Ways {
  /** In order and disjoint. */
  readonly uses: readonly DoorUse[];
  readonly others: readonly { readonly instant: number; readonly sort: StirBoundary }[];
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
 * the diary close to a fitting cluster is that cluster. With `ways` a door used near a cluster dates it, and every other use,
 * and every other way, is a boundary by itself.
 */
export function layOut(witnesses: readonly Witness[], written: Timeline, period: Interval, windowMs: number, ways?: Ways): Layout {
  const { clusters, clusterOf } = clusterChanges(
    witnesses.map((one) => one.changes),
    windowMs,
  );
  const instants = instantsOf(clusters);
  const uses = ways === undefined ? [] : datedByDoors(clusters, instants, ways.uses, windowMs);
  const pieces = diaryPieces(written);

  // 1. Diary edges that no cluster stands for are boundaries of their own.
  const clusterAt = (instant: number, to: 0 | 1): number => nearestCluster(clusters, instants, instant, to, windowMs);
  const alone = new Set<number>();
  for (const { from, to, state } of pieces) {
    if (from > period.from && clusterAt(from, state) < 0) alone.add(from);
    if (to < period.to && clusterAt(to, opposite(state)) < 0) alone.add(to);
  }
  const extra = [...[...alone].map((instant) => diaryEdge(instant, ways)), ...boundariesOfWays(ways, uses)].sort(
    (a, b) => a.instant - b.instant,
  );
  const { boundaries, boundaryOfCluster, boundaryOfExtra } = merged(clusters, instants, uses, extra);

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
  uses: readonly (DoorUse | undefined)[],
  extra: readonly Boundary[],
): { boundaries: Boundary[]; boundaryOfCluster: Int32Array; boundaryOfExtra: Map<number, number> } {
  const boundaries: Boundary[] = [];
  const boundaryOfCluster = new Int32Array(clusters.length);
  const boundaryOfExtra = new Map<number, number>();
  let next = 0;
  const addExtra = (before: number): void => {
    for (let one = extra[next]; one !== undefined && one.instant < before; one = extra[next]) {
      if (isDiaryEdge(one)) boundaryOfExtra.set(one.instant, boundaries.length);
      boundaries.push(one);
      next += 1;
    }
  };
  clusters.forEach(({ to, members }, c) => {
    addExtra(instants[c]!);
    boundaryOfCluster[c] = boundaries.length;
    const use = uses[c];
    boundaries.push({ instant: instants[c]!, to, members, ...(use === undefined ? {} : { use, sort: "door" as const }) });
  });
  addExtra(Infinity);
  return { boundaries, boundaryOfCluster, boundaryOfExtra };
}

/** A phone may tell this long before the door opens (milliseconds), where it notices the way home. Our own choice. */
const EARLY_MS = 300_000;

/**
 * The door use that dates each cluster, if there is one: the nearest, from `windowMs` before to {@link EARLY_MS} after it. Moves
 * `instants`, which never fall. A use dates one cluster, and both keep their order.
 */
function datedByDoors(clusters: readonly Cluster[], instants: Float64Array, uses: readonly DoorUse[], windowMs: number): (DoorUse | undefined)[] {
  let [first, latest] = [0, -Infinity];
  return clusters.map(({ to }, c) => {
    const instant = instants[c]!;
    const next = instants[c + 1] ?? Infinity;
    let best = -1;
    for (let u = first; u < uses.length && uses[u]!.opened <= instant + EARLY_MS; u += 1) {
      const at = to === ON ? uses[u]!.opened : uses[u]!.shut;
      if (at < instant - windowMs || at < latest || at > next || at > instant + EARLY_MS) continue;
      const rival = best < 0 ? Infinity : Math.abs((to === ON ? uses[best]!.opened : uses[best]!.shut) - instant);
      if (Math.abs(at - instant) < rival) best = u;
    }
    const use = uses[best];
    if (use !== undefined) {
      instants[c] = to === ON ? use.opened : use.shut;
      first = best + 1;
    }
    latest = instants[c]!;
    return use;
  });
}

/** Where only the diary begins or ends. Close to a door that moved it is that movement, rounded. */
function diaryEdge(instant: number, ways: Ways | undefined): Boundary {
  const isRounded = ways?.uses.some(({ opened, shut }) => opened <= instant + DIARY_EDGE_MS && shut >= instant - DIARY_EDGE_MS) === true;
  return { instant, to: null, members: [], ...(isRounded ? { sort: "written" as const } : {}) };
}

/** The ways that no cluster stands for. */
function boundariesOfWays(ways: Ways | undefined, dating: readonly (DoorUse | undefined)[]): Boundary[] {
  if (ways === undefined) return [];
  const taken = new Set(dating);
  return [
    ...ways.uses.filter((use) => !taken.has(use)).map((use): Boundary => ({ instant: use.opened, to: null, members: [], sort: "door", use })),
    ...ways.others.map(({ instant, sort }): Boundary => ({ instant, to: null, members: [], sort })),
  ];
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
