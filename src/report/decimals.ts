/** Significant digits of an interval's half-width; its ends and its value need no more. Our own choice. */
const HALF_WIDTH_DIGITS = 2;
/** Nobody reads more decimals than these. */
const MOST_DECIMALS = 4;

/**
 * How many decimals an interval warrants, the same for its value and both its ends: those that show its half-width to
 * two significant digits. With one end only, the distance from the value to it stands for the half-width.
 * Null where there is no width to go by.
 */
export function warrantedDecimals({
  value,
  low,
  high,
}: {
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}): number | null {
  const half = low !== null && high !== null ? (high - low) / 2 : Math.abs((value ?? NaN) - (low ?? high ?? NaN));
  if (!(half > 0)) return null;
  return Math.min(MOST_DECIMALS, Math.max(0, HALF_WIDTH_DIGITS - 1 - Math.floor(Math.log10(half))));
}

/**
 * An amount with a fixed number of decimals. One that is not 0 is never written as 0: it keeps one significant digit,
 * `0.3` beside `12`, as far as eight decimals.
 */
export function fixedText(amount: number, decimals: number): string {
  if (amount === 0) return "0";
  const text = amount.toLocaleString("en-GB", { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
  if (/[1-9]/.test(text)) return minus(text);
  return minus(Number(amount.toPrecision(1)).toFixed(8).replace(/\.?0+$/, ""));
}

/**
 * A share (or a kappa) with a fixed number of decimals. Only an exact 0 or 1 is written so; one that would round
 * there is written as what it is at least or at most: `> 0.999`, `< 0.001`.
 */
export function fixedShareText(share: number, decimals: number): string {
  if (share === 0 || share === 1) return String(share);
  const text = share.toFixed(decimals);
  const step = 10 ** -decimals;
  if (Number(text) === 0) return share > 0 ? `< ${step.toFixed(decimals)}` : `> −${step.toFixed(decimals)}`;
  if (Number(text) === 1 && share < 1) return `> ${(1 - step).toFixed(decimals)}`;
  return minus(text);
}

/** Which way an amount is rounded: a bound from above goes up, one from below down, so that neither claims too much. */
export type Rounding = "nearest" | "up" | "down";

/**
 * An amount above 0, rounded to `digits` significant digits in the direction asked for; "nearest" leaves it to the
 * writer.
 */
export function roundedOutward(amount: number, digits: number, rounding: Rounding): number {
  if (rounding === "nearest" || amount <= 0 || !Number.isFinite(amount)) return amount;
  const scale = 10 ** Math.min(12, Math.max(0, digits - 1 - Math.floor(Math.log10(amount))));
  // A number that is round except for a rounding error must not be pushed to the next one.
  const scaled = Number((amount * scale).toPrecision(12));
  return (rounding === "up" ? Math.ceil(scaled) : Math.floor(scaled)) / scale;
}

/** The sign of a negative number as print has it. */
export function minus(text: string): string {
  return text.replace(/^-/, "−");
}
