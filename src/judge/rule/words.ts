import { DAYS_PER_YEAR } from "../../ground/units.js";
import type { Act, ActLimits } from "../../site/site.js";

/** What one and several firings of an act are called. */
export const actNouns: Readonly<Record<Act, { readonly one: string; readonly many: string }>> = {
  unlock: { one: "unlock", many: "unlocks" },
  lock: { one: "locking", many: "lockings" },
  disarm: { one: "disarming", many: "disarmings" },
  arm: { one: "arming", many: "armings" },
};

/** Longer lists are cut: a household reads the first three. */
export const MOST_NAMED = 3;

/** How a figure is rounded: an upper bound up, a lower bound down, so that neither claims too much. */
export type Rounding = "nearest" | "up" | "down";

const roundings = { nearest: Math.round, up: Math.ceil, down: Math.floor } as const satisfies Record<Rounding, (value: number) => number>;

/** Significant digits of what was measured or is allowed. Our own choice. */
const DIGITS = 3;
/** Significant digits of a bound, which is less sharp than what was measured; from 100 on it is a whole number. Our own choice. */
const BOUND_DIGITS = 2;
const MOST_DECIMALS = 12;

/**
 * Three significant digits, of a bound two (whole numbers in full), without an exponent; "any number" for Infinity. Beside a `limit`
 * a bound has as many digits as it takes to stand on the same side of it.
 */
export function figureText(value: number, rounding: Rounding = "nearest", limit: number | null = null): string {
  return roundedText(value, rounding, limit, rounding === "nearest" ? DIGITS : BOUND_DIGITS);
}

/** The limit on wrong acts as its user wrote it: `0.5`, `once a year`, or `once in 2 years, that is 0.5 a year`. */
export function limitText({ wrongPerYear, inWords }: Pick<ActLimits, "wrongPerYear" | "inWords">): string {
  if (inWords === undefined) return figureText(wrongPerYear);
  return inWords.endsWith(" a year") || inWords.endsWith("every year") ? inWords : `${inWords}, that is ${figureText(wrongPerYear)} a year`;
}

/** A share as per cent, with the digits of {@link figureText}; a bound from 90 % on with a decimal, as what is missing to 100 counts. */
export function percentText(share: number, rounding: Rounding = "nearest", limit: number | null = null): string {
  const digits = rounding === "nearest" || share >= 0.9 ? DIGITS : BOUND_DIGITS;
  return `${roundedText(inPercent(share), rounding, limit === null ? null : inPercent(limit), digits)} %`;
}

function inPercent(share: number): number {
  return Number((share * 100).toPrecision(12));
}

function roundedText(value: number, rounding: Rounding, limit: number | null, digits: number): string {
  if (!Number.isFinite(value)) return "any number";
  if (Number.isInteger(value)) return String(value);
  const first = digits - 1 - Math.floor(Math.log10(Math.abs(value)));
  for (let decimals = Math.min(MOST_DECIMALS, Math.max(0, first)); ; decimals += 1) {
    const scale = 10 ** decimals;
    // A floating-point error must not push a round number to the next one.
    const rounded = roundings[rounding](Number((value * scale).toPrecision(12))) / scale;
    if (limit === null || decimals >= MOST_DECIMALS || rounded <= limit === value <= limit) return String(rounded);
  }
}

/** `once`, `twice`, `3 times`. */
export function timesText(count: number): string {
  return timesWith(count, String(count));
}

/** `once`, `twice`, `five times`, `61 times`. */
export function timesInWords(count: number): string {
  return timesWith(count, numberText(count));
}

function timesWith(count: number, written: string): string {
  return count === 1 ? "once" : count === 2 ? "twice" : `${written} times`;
}

/** `an unlock`, `a locking`. */
export function oneText(act: Act): string {
  const { one } = actNouns[act];
  return `${/^[aeiou]/.test(one) ? "an" : "a"} ${one}`;
}

/** `x`, `x and y`, `x, y and z`. */
export function listText(texts: readonly string[], last: "and" | "or" = "and"): string {
  return texts.length < 2 ? texts.join("") : `${texts.slice(0, -1).join(", ")} ${last} ${texts.at(-1) ?? ""}`;
}

/** `no wrong unlock`, `1 wrong unlock`, `3 wrong unlocks`. */
export function countText(count: number, one: string, many: string): string {
  return count === 0 ? `no ${one}` : count === 1 ? `1 ${one}` : `${count} ${many}`;
}

/** A number as a word up to twelve: `no`, `one`, `13`. */
export function numberText(count: number): string {
  return small[count] ?? String(count);
}

/** `two questions`; `up to two questions` where some of them may turn out not to be needed. */
export function countInWords(count: number, one: string, many: string, mayDrop = 0): string {
  return `${mayDrop > 0 ? "up to " : ""}${numberText(count)} ${count === 1 ? one : many}`;
}

const small = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** Time seen in days; in years from three years on. */
export function seenText(years: number): string {
  if (years >= 3) return `${figureText(years)} years`;
  const days = figureText(years * DAYS_PER_YEAR);
  return `${days} ${days === "1" ? "day" : "days"}`;
}

/** As {@link seenText}, of time that somebody confirmed: `20.9 confirmed days`. */
export function confirmedDaysText(years: number): string {
  return seenText(years).replace(/(days?|years)$/, "confirmed $1");
}
