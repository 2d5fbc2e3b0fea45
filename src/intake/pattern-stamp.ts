import { DateTime } from "luxon";
import { wallClockMs } from "./local-instant.js";
import { inEnglish } from "./month-names.js";

/** A stamp read by a pattern: either an instant or, without an offset in the pattern, what the wall clock showed. */
export interface PatternReader {
  /** Whether the numbers that `read` gives are instants (the pattern holds an offset, a zone or an epoch). */
  readonly givesInstants: boolean;
  /** Epoch milliseconds, or wall-clock milliseconds (see `wallClockMs`); NaN where the text does not fit the pattern. */
  readonly read: (text: string) => number;
}

/** Remember stamps by their text: neighbouring rows often share one, and luxon takes some ten microseconds each. */
const REMEMBERED_STAMPS = 50_000;

/** Fields of fixed width, which can be read without luxon. */
const fixedFields = { yyyy: "year", MM: "month", dd: "day", HH: "hour", mm: "minute", ss: "second", SSS: "millisecond" } as const;

/** Whether a pattern has a year; without one, luxon takes the year of the computer's clock. */
export function patternHasYear(pattern: string): boolean {
  return /[ykXx]/.test(withoutLiterals(pattern));
}

/**
 * Makes a reader for a luxon pattern such as `dd/MM/yyyy HH:mm:ss` (English day names; months by name in English, German, French or Spanish). Patterns made of
 * fixed-width numbers are read directly; luxon reads everything else, so that luxon's reading always counts.
 */
export function makePatternReader(pattern: string): PatternReader {
  const parser = DateTime.buildFormatParser(pattern, { locale: "en-US" });
  const hasWords = /MMM|a/.test(withoutQuotes(pattern));
  const remembered = new Map<string, number>();
  const byLuxon = (text: string): number => {
    const known = remembered.get(text);
    if (known !== undefined) return known;
    const asWritten = DateTime.fromFormatParser(text, parser, { zone: "utc", locale: "en-US" });
    const translated = asWritten.isValid || !hasWords ? text : inEnglish(text, pattern);
    const stamp = translated === text ? asWritten : DateTime.fromFormatParser(translated, parser, { zone: "utc", locale: "en-US" });
    const ms = stamp.isValid ? stamp.toMillis() : Number.NaN;
    if (remembered.size >= REMEMBERED_STAMPS) remembered.clear();
    // A copy: the text itself may be a slice that would keep a whole block of the file in memory.
    remembered.set(Buffer.from(text).toString(), ms);
    return ms;
  };
  const fixed = fixedWidthReader(pattern);
  const read = fixed === null ? byLuxon : (text: string): number => {
    const ms = fixed(text);
    return Number.isNaN(ms) ? byLuxon(text) : ms;
  };
  return { givesInstants: /[ZzXx]/.test(withoutLiterals(pattern)), read };
}

function withoutQuotes(pattern: string): string {
  return pattern.replace(/'[^']*'/g, "");
}

/** Quoted text removed, then macro tokens spelt out (which drops the quotes). */
function withoutLiterals(pattern: string): string {
  return DateTime.expandFormat(withoutQuotes(pattern), { locale: "en-US" });
}

/** A reader for a pattern that consists of fixed-width numbers and punctuation only; null for any other pattern. */
function fixedWidthReader(pattern: string): ((text: string) => number) | null {
  const fields: { readonly name: string; readonly at: number; readonly width: number }[] = [];
  const literals: { readonly code: number; readonly at: number }[] = [];
  let width = 0;
  for (const [part] of pattern.matchAll(/'[^']*'|([A-Za-z])\1*|[^]/g)) {
    const quoted = part.length > 1 && part.startsWith("'");
    if (/^[A-Za-z]/.test(part)) {
      if (!Object.hasOwn(fixedFields, part)) return null;
      fields.push({ name: fixedFields[part as keyof typeof fixedFields], at: width, width: part.length });
      width += part.length;
    } else {
      for (const character of quoted ? part.slice(1, -1) : part) literals.push({ code: character.charCodeAt(0), at: width++ });
    }
  }
  const field = (name: string, byDefault: number): ((text: string) => number) => {
    const found = fields.find((one) => one.name === name);
    return found === undefined ? () => byDefault : (text) => digits(text, found.at, found.width);
  };
  if (new Set(fields.map(({ name }) => name)).size !== fields.length || !fields.some(({ name }) => name === "year")) return null;
  const [year, month, day] = [field("year", 0), field("month", 1), field("day", 1)];
  const [hour, minute, second, millisecond] = [field("hour", 0), field("minute", 0), field("second", 0), field("millisecond", 0)];
  let lastKey = -1;
  let lastDayMs = Number.NaN;
  return (text) => {
    if (text.length !== width) return Number.NaN;
    for (const { code, at } of literals) if (text.charCodeAt(at) !== code) return Number.NaN;
    const [y, m, d, h, min, s, ms] = [year(text), month(text), day(text), hour(text), minute(text), second(text), millisecond(text)];
    // NaN fails every comparison.
    if (!(m >= 1 && m <= 12 && d >= 1 && h <= 23 && min <= 59 && s <= 59)) return Number.NaN;
    const key = (y * 100 + m) * 100 + d;
    if (key !== lastKey) {
      const dayMs = wallClockMs(y, m, d);
      if (new Date(dayMs).getUTCDate() !== d) return Number.NaN;
      lastKey = key;
      lastDayMs = dayMs;
    }
    return lastDayMs + ((h * 60 + min) * 60 + s) * 1000 + ms;
  };
}

function digits(text: string, at: number, width: number): number {
  let value = 0;
  for (let i = at; i < at + width; i++) {
    const digit = text.charCodeAt(i) - 0x30;
    if (!(digit >= 0 && digit <= 9)) return Number.NaN;
    value = value * 10 + digit;
  }
  return value;
}
