import type { Cluster } from "./clusters.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** The cluster in direction `to` whose instant is nearest to `instant` and at most `windowMs` away, the earlier of equals; −1 for none. `instants` never fall. */
export function nearestCluster(clusters: readonly Cluster[], instants: Float64Array, instant: number, to: 0 | 1, windowMs: number): number {
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
