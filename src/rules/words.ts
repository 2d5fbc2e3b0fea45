import type { Act } from "../site/site.js";

/** What one and several firings of an act are called. */
export const actNouns: Readonly<Record<Act, { readonly one: string; readonly many: string }>> = {
  unlock: { one: "unlock", many: "unlocks" },
  lock: { one: "locking", many: "lockings" },
  disarm: { one: "disarming", many: "disarmings" },
  arm: { one: "arming", many: "armings" },
};

/** Three significant digits, without an exponent where a household would meet one; "any number" for Infinity. */
export function figureText(value: number): string {
  if (!Number.isFinite(value)) return "any number";
  return value >= 1000 ? String(Math.round(value)) : String(Number(value.toPrecision(3)));
}

/** A share as per cent, three significant digits. */
export function percentText(share: number): string {
  return `${figureText(share * 100)} %`;
}

/** `no wrong unlock`, `1 wrong unlock`, `3 wrong unlocks`. */
export function countText(count: number, one: string, many: string): string {
  return count === 0 ? `no ${one}` : count === 1 ? `1 ${one}` : `${count} ${many}`;
}

/** Time seen: days, from three years on in years. */
export function seenText(years: number): string {
  if (years >= 3) return `${figureText(years)} years`;
  const days = figureText(years * 365.25);
  return `${days} ${days === "1" ? "day" : "days"}`;
}

/** Texts begin with a capital. */
export function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
