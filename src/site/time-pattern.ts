import type { TimeWriting } from "./site.js";

/** Ways of writing an instant that have a name of their own. */
export const namedWritings = ["iso", "epoch-s", "epoch-ms"] as const;

/** How stamps are written, from the site file's text. */
export function timeWriting(text: string): TimeWriting {
  return (namedWritings as readonly string[]).includes(text) ? (text as (typeof namedWritings)[number]) : { pattern: text };
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
