import type { Source } from "../site/site.js";
import { makeStampReader } from "./stamp.js";

/**
 * `; it looks like epoch-ms`, or nothing: a hint for a stamp that is not written as its source says, so that two ways of
 * writing in one column show. Only the ways that explain themselves are recognised; a pattern is never guessed.
 */
export function stampLook(text: string, source: Pick<Source, "written" | "zone" | "skippedHour">): string {
  const trimmed = text.trim();
  const written = /^\d{9,10}(\.\d+)?$/.test(trimmed) ? "epoch-s" : /^\d{12,13}$/.test(trimmed) ? "epoch-ms" : /^\d{4}-/.test(trimmed) ? "iso" : null;
  if (written === null || written === source.written) return "";
  return Number.isNaN(makeStampReader({ ...source, written }).read(trimmed)) ? "" : `; it looks like ${written}`;
}
