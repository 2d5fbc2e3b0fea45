import { DateTime } from "luxon";
import type { TimeWriting } from "./site.js";

/** What a date and time pattern must say, and the letters that say it (those of the Luxon library's formats). */
const needed = [
  { what: "the year", letters: /[yk]/, write: "yyyy" },
  { what: "the month", letters: /[MLoW]/, write: "MM" },
  { what: "the day of the month", letters: /[doEc]/, write: "dd" },
  { what: "the hour", letters: /[Hh]/, write: "HH" },
] as const;

/** Words that are no pattern. */
export const namedWritings = ["iso", "epoch-s", "epoch-ms"] as const;

/** How stamps are written, from the site file's text. */
export function timeWriting(text: string): TimeWriting {
  return (namedWritings as readonly string[]).includes(text) ? (text as (typeof namedWritings)[number]) : { pattern: text };
}

/**
 * What a pattern lacks to name one instant, e.g. `the month (write MM)`; empty when it lacks nothing.
 * Text between single quotes is literal and says nothing.
 */
export function missingFromPattern(pattern: string): string[] {
  // Whole-date letters such as f stand for several others; they are spelt out first.
  const letters = DateTime.expandFormat(pattern, { locale: "en-US" }).replace(/'[^']*'/g, "");
  // Seconds or milliseconds of the epoch name an instant by themselves.
  if (/[Xx]/.test(letters)) return [];
  const missing = needed.filter((part) => !part.letters.test(letters)).map((part) => `${part.what} (write ${part.write})`);
  if (/h/.test(letters) && !/H/.test(letters) && !/a/.test(letters)) missing.push("morning or afternoon (write a, or HH for 24 hours)");
  return missing;
}
