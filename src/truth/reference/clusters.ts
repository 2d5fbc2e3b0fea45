/* eslint-disable @typescript-eslint/no-non-null-assertion --
   lists by witness, and the parallel lists of its changes; each index runs below their length */
import type { Changes } from "./witness.js";

/** One witness's change as part of a candidate transition. */
export interface ClusterChange {
  readonly witness: number;
  readonly at: number;
  readonly earliest: number;
  readonly seen: boolean;
}

/** A candidate transition: changes in one direction that may well be the same event, at most one of each witness. */
export interface Cluster {
  readonly to: 0 | 1;
  readonly members: readonly ClusterChange[];
}

/**
 * Clusters in the order of their first changes; `clusterOf[w][i]` is where change i of witness w belongs, rising
 * strictly in i.
 */
interface Clustering {
  readonly clusters: readonly Cluster[];
  readonly clusterOf: readonly Int32Array[];
}

interface Open {
  readonly to: 0 | 1;
  readonly first: number;
  readonly members: ClusterChange[];
}

/**
 * Puts changes in one direction within `windowMs` of the first together, in order of time. A change joins the latest
 * cluster that its own order of changes allows. It joins one before a cluster in the other direction only if its own
 * next change comes within the window of that one: a short visit seen late, not another one. A change whose instant
 * nobody saw may also join any cluster in its gap: that is when it happened.
 */
export function clusterChanges(witnesses: readonly Changes[], windowMs: number): Clustering {
  const clusters: Open[] = [];
  const clusterOf = witnesses.map((one) => new Int32Array(one.at.length));
  const last = witnesses.map(() => -1);
  for (const { witness, index } of inOrder(witnesses)) {
    const changes = witnesses[witness]!;
    const to = changes.to[index] as 0 | 1;
    const seen = changes.seen[index] === 1;
    const from = (seen ? changes.at[index]! : changes.earliest[index]!) - windowMs;
    let found = -1;
    let between = -1;
    for (let c = clusters.length - 1; c > last[witness]! && clusters[c]!.first >= from; c -= 1) {
      if (clusters[c]!.to === to) {
        found = c;
        break;
      }
      between = c;
    }
    if (found >= 0 && between >= 0 && seen && !((changes.at[index + 1] ?? Infinity) - clusters[between]!.first <= windowMs)) found = -1;
    if (found < 0) found = clusters.push({ to, first: changes.at[index]!, members: [] }) - 1;
    clusters[found]!.members.push({ witness, at: changes.at[index]!, earliest: changes.earliest[index]!, seen });
    clusterOf[witness]![index] = found;
    last[witness] = found;
  }
  return { clusters, clusterOf };
}

/**
 * All changes by instant; equal instants in the order of witnesses. A merge: each witness's own are in order already.
 */
function inOrder(witnesses: readonly Changes[]): { witness: number; index: number }[] {
  const queues = witnesses.map(({ at }, witness) => ({ witness, at, next: 0 }));
  const order: { witness: number; index: number }[] = [];
  for (;;) {
    let first: (typeof queues)[number] | undefined;
    let instant = Infinity;
    for (const queue of queues) {
      const at = queue.at[queue.next] ?? Infinity;
      if (at >= instant) continue;
      first = queue;
      instant = at;
    }
    if (first === undefined) return order;
    order.push({ witness: first.witness, index: first.next });
    first.next += 1;
  }
}
