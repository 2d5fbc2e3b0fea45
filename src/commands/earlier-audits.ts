import { dirname, resolve } from "node:path";
import type { Counts } from "../result/counts-schema.js";
import type { Findings } from "../result/schema.js";
import { problemText } from "../ground/problem.js";
import { findFinished } from "./finished-audits.js";
import type { Surroundings } from "./surroundings.js";

/** Where earlier results of a site are looked for. */
export interface EarlierRequest {
  /** Folders named with --earlier. */
  readonly places: readonly string[];
  /** Nowhere: the period stands alone. */
  readonly alone: boolean;
}

/** What was found there. */
export interface EarlierAudits {
  readonly counts: readonly Counts[];
  /** Results that could not be read: the folder, and why. */
  readonly broken: readonly { readonly folder: string; readonly why: string }[];
}

/**
 * Finds earlier results: in the folders named, else in `siblings` (reports/SITE, where the result goes without --out; null
 * with it, since nobody can know what else lies beside a folder of the user's choice). Null when the period is to stand alone.
 */
export async function earlierAudits(request: EarlierRequest, siblings: string | null, around: Surroundings): Promise<EarlierAudits | null> {
  if (request.alone) return null;
  const places = request.places.length > 0 ? request.places.map((place) => resolve(around.folder, place)) : siblings === null ? [] : [siblings];
  const counts: Counts[] = [];
  const broken: { folder: string; why: string }[] = [];
  for (const place of places) {
    const found = await findFinished(place, around.folder);
    counts.push(...found.finished.map((one) => one.counts));
    // Without a folder of siblings this is the first audit of the site; a folder that was named must be there.
    const unread = found.broken.filter(({ file }) => place !== siblings || resolve(around.folder, file ?? "") !== place);
    broken.push(...unread.map((one) => ({ folder: dirname(one.file ?? ""), why: problemText({ ...one, file: null, mend: null }) })));
  }
  return { counts, broken };
}

/** The findings with the results that could not be read among those left out, but for the one that `target` replaces. */
export function withLeftOut(findings: Findings, { broken }: EarlierAudits, target: string): Findings {
  const unread = broken.filter(({ folder }) => folder !== target);
  if (findings.months === null || unread.length === 0) return findings;
  return { ...findings, months: { ...findings.months, leftOut: [...findings.months.leftOut, ...unread.map(({ folder, why }) => ({ what: folder, why }))] } };
}
