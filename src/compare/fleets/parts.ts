import { createHash } from "node:crypto";
import { type Counts, countsSchema } from "../../result/counts-schema.js";
import { isoText } from "../../result/values.js";
import { encoded } from "../../result/json-text.js";

/** Digits kept of a digest. */
const DIGEST_DIGITS = 16;

/** A finished audit with the digest of its counts. */
export interface Part {
  readonly counts: Counts;
  readonly digest: string;
}

/** The audits in the order of site and time, each once however often it was given: equal but for the time of making is the same. */
export function distinctParts(audits: readonly Counts[]): Part[] {
  const parts = new Map<string, Part>();
  for (const counts of audits) {
    const part = { counts, digest: digestOf(counts) };
    if (!parts.has(part.digest)) parts.set(part.digest, part);
  }
  return [...parts.values()].sort((a, b) => (sortKey(a) < sortKey(b) ? -1 : 1));
}

/** Pairs of different audits of one site that cover common time: adding them up would count it twice. */
export function overlappingParts(audits: readonly Counts[]): [Counts, Counts][] {
  const pairs: [Counts, Counts][] = [];
  let longest: Counts | null = null;
  for (const { counts } of distinctParts(audits)) {
    // In the order of site and begin, only the one of the site that reaches furthest need be looked at.
    const sameSite: Counts | null = longest?.site.name === counts.site.name ? longest : null;
    if (sameSite !== null && sameSite.period.to > counts.period.from) pairs.push([sameSite, counts]);
    if (sameSite === null || counts.period.to > sameSite.period.to) longest = counts;
  }
  return pairs;
}

function sortKey({ counts, digest }: Part): string {
  return JSON.stringify([counts.site.name, isoText(counts.period.from), isoText(counts.period.to), digest]);
}

/** Of everything but when it was made and by which version. Counts come out of their schema, so their keys have one order. */
function digestOf(counts: Counts): string {
  return createHash("sha256").update(JSON.stringify({ ...encoded(countsSchema, counts), made: null })).digest("hex").slice(0, DIGEST_DIGITS);
}
