import { dirname, resolve } from "node:path";
import type { Counts } from "../result/counts-schema.js";
import type { Findings } from "../result/schema.js";
import { problemText } from "../ground/problem.js";
import { findFinished } from "./finished-audits.js";
import type { Surroundings } from "./surroundings.js";

/** Where to look for earlier results of a site. */
export interface EarlierRequest {
  /** Folders named with --earlier. */
  readonly places: readonly string[];
  /** Look nowhere: the period stands alone. */
  readonly alone: boolean;
}

/** What was found there. */
export interface EarlierAudits {
  readonly counts: readonly Counts[];
  /** Folders of results that cannot be read, and why. */
  readonly broken: readonly { readonly folder: string; readonly why: string }[];
}

/**
 * Finds earlier results in the folders named, or else in `siblings`: reports/SITE, where results go without --out. With
 * --out `siblings` is null, because anything may lie beside a folder the user chose. Returns null for a period that stands alone.
 */
export async function earlierAudits(request: EarlierRequest, siblings: string | null, around: Surroundings): Promise<EarlierAudits | null> {
  if (request.alone) return null;
  const places = request.places.length > 0 ? request.places.map((place) => resolve(around.folder, place)) : siblings === null ? [] : [siblings];
  const counts: Counts[] = [];
  const broken: { folder: string; why: string }[] = [];
  for (const place of places) {
    const found = await findFinished(place, around.folder);
    counts.push(...found.finished.map((one) => one.counts));
    // A missing folder of siblings means that this is the first audit; a folder the user named must exist.
    const unread = found.broken.filter(({ file }) => place !== siblings || resolve(around.folder, file ?? "") !== place);
    broken.push(...unread.map((one) => ({ folder: dirname(one.file ?? ""), why: problemText({ ...one, file: null, mend: null }) })));
  }
  return { counts, broken };
}

/** Adds the results that cannot be read to those the findings leave out, except the one that `target` replaces. */
export function withLeftOut(findings: Findings, { broken }: EarlierAudits, target: string): Findings {
  const unread = broken.filter(({ folder }) => folder !== target);
  if (findings.months === null || unread.length === 0) return findings;
  return { ...findings, months: { ...findings.months, leftOut: [...findings.months.leftOut, ...unread.map(({ folder, why }) => ({ what: folder, why }))] } };
}
