import { z } from "zod";
import { durationPattern, parseDurationMs } from "../ground/duration.js";
import { lengthPattern, parseLength } from "./length.js";
import { parseShare, sharePattern } from "./share.js";
import { hasUnprintable } from "./yaml-text.js";
import { parseYearlyRate, yearlyRateForms, yearlyRatePattern } from "./yearly-rate.js";

/*
 * The single values of a site file. Every scalar arrives as the text the user wrote (see yaml-text.ts).
 * Each schema's message is what was *expected*, as a noun phrase; check-shape.ts adds place, name and what was found.
 * `meta` tells editors (JSON Schema) which YAML types they may accept, as they see numbers where we see text.
 */

/** A name or any other text that ends up in outputs: not empty, no control characters. */
export function text(expected: string) {
  return z
    .string({ error: expected })
    .refine((value) => value.trim() !== "", { error: `${expected}, not empty` })
    .refine((value) => !hasUnprintable(value), { error: `${expected}, without control characters` })
    .meta({ type: ["string", "number", "boolean"] });
}

/** A cell of an export as it may be written there: anything, also empty. An item left blank is an empty cell. */
const cell = z
  .string({ error: "a word as it stands in the export" })
  .nullable()
  .transform((value) => value ?? "")
  .meta({ type: ["string", "number", "boolean", "null"] });

const emptyExpected = "words as they stand in the export, or two distances, [near, far]";

/** One word or a list of words of an export. */
export const words = oneOrMore(cell, "a word or a list of words as they stand in the export");

/**
 * What `empty` may hold: words of an export, two distances, or a list of pairs of distances. Which of them depends on
 * the signal's kind.
 */
export const wordsOrDistances = z
  .union([cell, z.array(z.union([cell, z.array(cell)], { error: emptyExpected })).min(1, { error: `${emptyExpected}, not empty` })], {
    error: emptyExpected,
  })
  .transform((value) => (typeof value === "string" ? [value] : value));

/** One text or a list of texts, always read as a list. */
export function texts(expected: string) {
  return oneOrMore(text(expected), `${expected}, or a list`);
}

function oneOrMore<T extends z.ZodType<string>>(one: T, expected: string) {
  return z
    .union([one, z.array(one).min(1, { error: `${expected}, not empty` })], { error: expected })
    .transform((value) => (typeof value === "string" ? [value] : value));
}

/** A number, checked by `fits`. */
export function number(expected: string, fits: (value: number) => boolean, range: Record<string, unknown> = {}) {
  return z
    .string({ error: expected })
    .transform((written, context) => {
      const value = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(written.trim()) ? Number(written) : NaN;
      if (Number.isFinite(value) && fits(value)) return value;
      context.addIssue({ code: "custom", message: expected });
      return z.NEVER;
    })
    .meta({ type: "number", ...range });
}

/** What may stand for a duration. `signed`: also a negative one. `positive`: above zero. */
export type DurationRange = "positive" | "zero-or-more" | "signed";

const durationExpected: Readonly<Record<DurationRange, string>> = {
  positive: "a duration above zero, with its unit (ms, s, min, h or d), such as 20s, 3min or 2h30min",
  "zero-or-more": "a duration with its unit (ms, s, min, h or d), such as 20s, 3min or 2h30min",
  signed: "a duration with its unit (ms, s, min, h or d), such as 90s or -90s",
};

/** A duration, as milliseconds. */
export function duration(range: DurationRange) {
  const expected = durationExpected[range];
  return z
    .string({ error: expected })
    .transform((written, context) => {
      const ms = parseDurationMs(written);
      if (ms !== null && (range === "signed" || ms > 0 || (range === "zero-or-more" && ms === 0))) return ms;
      context.addIssue({ code: "custom", message: expected });
      return z.NEVER;
    })
    .meta({ pattern: range === "signed" ? durationPattern : durationPattern.replace("-?", "") });
}

/** A length with or without a unit of its own. */
export function length(expected: string) {
  return z
    .string({ error: expected })
    .transform((written, context) => {
      const value = parseLength(written);
      if (value !== null) return value;
      context.addIssue({ code: "custom", message: expected });
      return z.NEVER;
    })
    .meta({ type: ["number", "string"], pattern: lengthPattern });
}

/** A share above 0, up to 1: a number, or text such as `2 %` or `1 in 50`. */
export function share(expected: string) {
  return z
    .string({ error: expected })
    .transform((written, context) => {
      const value = parseShare(written);
      if (value !== null) return value;
      context.addIssue({ code: "custom", message: expected });
      return z.NEVER;
    })
    .meta({ type: ["number", "string"], exclusiveMinimum: 0, maximum: 1, pattern: sharePattern });
}

const yearlyRateExpected = `how often, as in ${listed(yearlyRateForms)}`;

/** How often something may happen, in words such as `once in 2 years`: the words, and times a year. */
export const yearlyRate = z
  .string({ error: yearlyRateExpected })
  .transform((written, context) => {
    const value = parseYearlyRate(written);
    if (value !== null) return { words: written.trim(), perYear: value };
    context.addIssue({ code: "custom", message: yearlyRateExpected });
    return z.NEVER;
  })
  .meta({ pattern: yearlyRatePattern });

/** One of a fixed set of words. */
export function oneOf<const T extends readonly [string, ...string[]]>(options: T) {
  return z.enum(options, { error: listed(options) });
}

/** `a, b or c` */
export function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} or ${names.at(-1) ?? ""}`;
}

/**
 * A mapping with fixed keys. For unknown keys the message is the list of known ones, joined by ", ":
 * check-shape.ts makes a suggestion from it.
 */
export function keyed<T extends z.ZodRawShape>(shape: T, expected: string) {
  const known = Object.keys(shape).join(", ");
  return z.strictObject(shape, { error: (issue) => (issue.code === "unrecognized_keys" ? known : expected) });
}

/** A mapping from names of the user's choice. */
export function named<T extends z.ZodType>(value: T, expected: string) {
  return z.record(z.string(), value, { error: expected });
}
