import { DateTime } from "luxon";
import type { TimeWriting } from "./site.js";

/** Ways of writing an instant that have a name of their own. */
export const namedWritings = ["iso", "epoch-s", "epoch-ms"] as const;

/** Ways of counting from the start of a device, and the milliseconds of a count. */
const countUnits = { "s-since": 1000, "ms-since": 1 } as const;

/** Names of all ways that are no patterns. */
export const allNamedWritings: readonly string[] = [...namedWritings, ...Object.keys(countUnits)];

/** How stamps are written, from the site file's text. `startMs`: what counts begin at (epoch milliseconds). */
export function timeWriting(text: string, startMs = 0): TimeWriting {
  if (Object.hasOwn(countUnits, text)) {
    const counts = text as keyof typeof countUnits;
    return { counts, unitMs: countUnits[counts], startMs };
  }
  return (namedWritings as readonly string[]).includes(text) ? (text as (typeof namedWritings)[number]) : { pattern: text };
}

/** A way of writing as the site file says it. */
export function writingText(written: TimeWriting): string {
  return typeof written === "string" ? written : "counts" in written ? written.counts : written.pattern;
}

/** The epoch milliseconds of an instant in ISO 8601; one without an offset is a local time of `zone`. NaN for what is none, and for a local time that a clock change skips or repeats. */
export function startInstant(text: string, zone: string): number {
  if (!/^\d{4}-?\d{2}-?\d{2}[T ]\d{2}/.test(text)) return Number.NaN;
  const written = text.replace(" ", "T");
  const at = DateTime.fromISO(written, { zone });
  if (!at.isValid) return Number.NaN;
  if (/(?:Z|[+-]\d{2}(?::?\d{2})?)$/i.test(written.slice(11))) return at.toMillis();
  // A skipped local time comes out as another one.
  const isOnce = at.getPossibleOffsets().length === 1 && at.toMillis() + at.offset * 60_000 === DateTime.fromISO(written, { zone: "utc" }).toMillis();
  return isOnce ? at.toMillis() : Number.NaN;
}

/** What a date and time pattern must say, and the letters that say it (those of the Luxon library's formats). */
const needed = [
  { what: "the year", letters: /[yk]/, write: "yyyy" },
  { what: "the month", letters: /[MLoW]/, write: "MM" },
  { what: "the day of the month", letters: /[doEc]/, write: "dd" },
  { what: "the hour", letters: /[Hh]/, write: "HH" },
] as const;

/** Letters that stand for a field. Letters for whole dates (D, T, f and the like) are left out: they differ by machine. */
const fieldLetters = "GykMLdoEcWHhmsSuaZzXx";

/** Letters other tools use for a field, and what to write here. */
const otherHabits: Readonly<Record<string, string>> = { Y: "yyyy", D: "dd", A: "a", j: "d" };

/** What is wrong with a pattern, as the end of a sentence that starts with the pattern; null when it names one instant. */
export function patternProblem(pattern: string): string | null {
  // What stands between single quotes is literal and says nothing.
  const letters = pattern.replace(/'[^']*'/g, "");
  if (letters.includes("'")) return "has a single quote without its partner";
  const foreign = [...letters.matchAll(/\p{L}/gu)].map(([letter]) => letter).find((letter) => !fieldLetters.includes(letter));
  if (foreign !== undefined) {
    const write = otherHabits[foreign];
    return `has the letter ${foreign}, which is not a field (write ${write ?? `'${foreign}' with its quotes for the letter itself`})`;
  }
  // Seconds or milliseconds of the epoch name an instant by themselves.
  if (/[Xx]/.test(letters)) return null;
  const missing = needed.filter((part) => !part.letters.test(letters)).map((part) => `${part.what} (write ${part.write})`);
  if (letters.includes("h") && !/[Ha]/.test(letters)) missing.push("whether it is morning or afternoon (write a, or HH for 24 hours)");
  return missing.length === 0 ? null : `does not say ${missing.join(", nor ")}`;
}
