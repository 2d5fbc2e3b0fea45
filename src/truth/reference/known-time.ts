import type { Basis, ReferenceSegment } from "./reference.js";
import { HOUR_MS } from "../../ground/units.js";

/** Hours of the period by who told the truth of a subject; they add up to the period. All but `diaryHours` lie outside the diary. */
export interface KnownTime {
  readonly diaryHours: number;
  readonly severalHours: number;
  readonly oneHours: number;
  readonly noneHours: number;
}

/** Below this share of time known outside the diary the reader is told on top. Our own choice. */
const LEAST_KNOWN = 0.5;

/** See {@link KnownTime}. */
export function knownTime(segments: readonly ReferenceSegment[]): KnownTime {
  const hours = (basis: Basis): number => segments.reduce((sum, one) => sum + (one.basis === basis ? one.to - one.from : 0), 0) / HOUR_MS;
  return { diaryHours: hours("diary"), severalHours: hours("several"), oneHours: hours("one"), noneHours: hours("none") };
}

/**
 * A note on every subject of which less than half of the time outside the diary is known. A diary of part of the period may hide that
 * nothing is known of the rest. Where nothing is known at all, another note says so and why.
 */
export function knownTimeNotes(references: readonly { readonly subject: string; readonly known: KnownTime }[]): string[] {
  return references.flatMap(({ subject, known: { diaryHours, severalHours, oneHours, noneHours } }) => {
    const outside = severalHours + oneHours + noneHours;
    if (outside === 0 || severalHours + oneHours >= LEAST_KNOWN * outside || noneHours === outside + diaryHours) return [];
    const share = `${Math.round((100 * noneHours) / outside)} %`;
    const where = diaryHours === 0 ? "Nobody" : `Outside your diary (${Math.round(diaryHours)} of ${Math.round(diaryHours + outside)} h) nobody`;
    return [`${where} can tell for ${share} of the time what was true of ${subject}: figures that need it rest on the rest.`];
  });
}
