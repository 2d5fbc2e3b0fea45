import { excerptAround, type LaneHistory } from "../replay/excerpts.js";
import type { ShownNearMiss } from "../judgement.js";
import type { NearMiss } from "./near-misses.js";

/** So many near misses of a rule keep an excerpt. Our own choice: a quorum over a fleet has thousands, and nobody looks at more. */
export const MOST_EXCERPTS = 8;
/** Of a longer near miss its beginning is shown: what brought the rule so close. Our own choice; a diagram of days cannot be read. */
export const MOST_SHOWN_MS = 6 * 3_600_000;

/**
 * The near misses in their order, the worst of them with an excerpt of the rule's lanes. All are one signal away from firing;
 * the worse is the one that a witness outside the rule (or the diary) vouches for, then the longer, then the earlier.
 */
export function withExcerpts(misses: readonly NearMiss[], histories: readonly LaneHistory[]): ShownNearMiss[] {
  const worst = new Set(misses.toSorted((a, b) => Number(b.verified) - Number(a.verified) || b.to - b.from - (a.to - a.from) || a.from - b.from).slice(0, MOST_EXCERPTS));
  return misses.map((miss) => ({ ...miss, excerpt: worst.has(miss) ? excerptAround(histories, miss.from, Math.min(miss.to, miss.from + MOST_SHOWN_MS)) : null }));
}
