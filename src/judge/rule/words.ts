import { DAYS_PER_YEAR } from "../../ground/units.js";
import type { Act } from "../../site/site.js";

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

/** Three significant digits (whole numbers in full), without an exponent; "any number" for Infinity. */
export function figureText(value: number, rounding: Rounding = "nearest"): string {
  if (!Number.isFinite(value)) return "any number";
  if (Number.isInteger(value)) return String(value);
  const digits = Math.min(12, Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value)))));
  const scale = 10 ** digits;
  // A floating-point error must not push a round number to the next one.
  const scaled = Number((value * scale).toPrecision(12));
  return String(roundings[rounding](scaled) / scale);
}

/** A share as per cent, three significant digits. */
export function percentText(share: number, rounding: Rounding = "nearest"): string {
  return `${figureText(Number((share * 100).toPrecision(12)), rounding)} %`;
}

/** `no wrong unlock`, `1 wrong unlock`, `3 wrong unlocks`. */
export function countText(count: number, one: string, many: string): string {
  return count === 0 ? `no ${one}` : count === 1 ? `1 ${one}` : `${count} ${many}`;
}

/** A number as a word up to twelve: `no`, `one`, `13`. */
export function numberText(count: number): string {
  return small[count] ?? String(count);
}

const small = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

/** Time seen in days; in years from three years on. */
export function seenText(years: number): string {
  if (years >= 3) return `${figureText(years)} years`;
  const days = figureText(years * DAYS_PER_YEAR);
  return `${days} ${days === "1" ? "day" : "days"}`;
}

/** The text with a capital first letter. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
