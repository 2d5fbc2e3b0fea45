import { createHash } from "node:crypto";
import { type Counts, countsSchema } from "../../result/counts.js";
import { isoText } from "../../result/values.js";
import { encoded } from "../../result/json-text.js";

/** Digits kept of a digest. */
const DIGEST_DIGITS = 16;

/** A finished audit with the digest of its counts. */
export interface FinishedAudit {
  readonly counts: Counts;
  readonly digest: string;
}

/** The audits in the order of site and time. Audits that differ only in the time of making count once. */
export function distinctAudits(audits: readonly Counts[]): FinishedAudit[] {
  const byDigest = new Map<string, FinishedAudit>();
  for (const counts of audits) {
    const digest = digestOf(counts);
    if (!byDigest.has(digest)) byDigest.set(digest, { counts, digest });
  }
  return [...byDigest.values()].sort((a, b) => (sortKey(a) < sortKey(b) ? -1 : 1));
}

/** Pairs of different audits of one site that cover common time: adding them up would count it twice. */
export function overlappingAudits(audits: readonly Counts[]): [Counts, Counts][] {
  const pairs: [Counts, Counts][] = [];
  let longest: Counts | null = null;
  for (const { counts } of distinctAudits(audits)) {
    // In the order of site and begin, only the one of the site that reaches furthest can overlap.
    const sameSite: Counts | null = longest?.site.name === counts.site.name ? longest : null;
    if (sameSite !== null && sameSite.period.to > counts.period.from) pairs.push([sameSite, counts]);
    if (sameSite === null || counts.period.to > sameSite.period.to) longest = counts;
  }
  return pairs;
}

function sortKey({ counts, digest }: FinishedAudit): string {
  return JSON.stringify([counts.site.name, isoText(counts.period.from), isoText(counts.period.to), digest]);
}

/**
 * Of everything but when it was made and by which version. Counts come out of their schema, so their keys have one
 * order.
 */
function digestOf(counts: Counts): string {
  return createHash("sha256")
    .update(JSON.stringify({ ...encoded(countsSchema, counts), made: null }))
    .digest("hex")
    .slice(0, DIGEST_DIGITS);
}
