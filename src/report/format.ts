import { HOUR_SECONDS, HOURS_PER_DAY, MINUTE_SECONDS } from "../ground/units.js";
import type { SignalScore } from "../result/schema.js";
import { fixedShareText, fixedText, minus, roundedOutward, type Rounding, warrantedDecimals } from "./decimals.js";

/** A figure with its interval, as it stands in the findings. */
export type Figure = SignalScore["agreement"];

/** The texts a figure is shown by. `value` null: there is none, and `why` says why. */
export interface FigureText {
  readonly value: string | null;
  /** In brackets, without them; null where there is no value. */
  readonly interval: string | null;
  /** `n = 84`, with spaces that do not break. */
  readonly count: string;
  /** The unit as it follows the number, with its space; empty for shares and kappa. */
  readonly unit: string;
  readonly why: string | null;
}

const DAY_SECONDS = HOURS_PER_DAY * HOUR_SECONDS;
/** Shares without an interval are shown to three decimals. */
const SHARE_DECIMALS = 3;
/**
 * Other amounts without an interval are shown to three significant digits: more would claim a precision that a month
 * cannot give.
 */
const SIGNIFICANT_DIGITS = 3;

/** The parts of a figure, each as text: value, interval, count, unit. */
export function figureText(figure: Figure): FigureText {
  const count = `n\u00a0=\u00a0${countText(figure.count)}`;
  if (figure.value === null) return { value: null, interval: null, count, unit: "", why: figure.why ?? "no reason was recorded" };
  const { write, unit } = writerFor(figure);
  return { value: write(figure.value), interval: intervalText(figure, write), count, unit, why: figure.why };
}

/**
 * A figure on one line: `0.982 (0.961–0.992), n = 84`, or `no value: too few arrivals, n = 0`; a remark follows the
 * count.
 */
export function figureLine(figure: Figure): string {
  const { value, interval, count, unit, why } = figureText(figure);
  if (value === null) return `no value: ${why ?? ""}, ${count}`;
  return `${value}${unit} (${interval ?? "no interval"}), ${count}${why === null ? "" : `; ${why}`}`;
}

/** Value and ends are written with the decimals that the interval warrants, in one unit. */
function writerFor(figure: Figure): { write: (x: number) => string; unit: string } {
  const decimals = (perUnit: number): number | null =>
    warrantedDecimals({ value: scaled(figure.value, perUnit), low: scaled(figure.low, perUnit), high: scaled(figure.high, perUnit) });
  if (figure.unit === "share" || figure.unit === "kappa") {
    const wanted = decimals(1) ?? SHARE_DECIMALS;
    return { write: (x) => fixedShareText(x, wanted), unit: "" };
  }
  const [perUnit, unit] =
    figure.unit === "seconds"
      ? secondsUnit(figure.value ?? 0)
      : [1, figure.unit === "" ? "" : `${figure.unit === "%" ? "\u00a0" : " "}${unitText(figure.unit)}`];
  const wanted = decimals(perUnit);
  return { write: (x) => (wanted === null ? measuredText(x / perUnit) : fixedText(x / perUnit, wanted)), unit };
}

function secondsUnit(seconds: number): readonly [number, string] {
  const size = Math.abs(seconds);
  if (size < 2 * MINUTE_SECONDS) return [1, " s"];
  return size < 2 * HOUR_SECONDS ? [MINUTE_SECONDS, " min"] : [HOUR_SECONDS, " h"];
}

function scaled(amount: number | null, perUnit: number): number | null {
  return amount === null ? null : amount / perUnit;
}

function intervalText({ low, high }: Figure, write: (x: number) => string): string {
  if (low === null && high === null) return "no interval";
  if (low === null) return `up to ${write(high ?? 0)}`;
  if (high === null) return `from ${write(low)}`;
  const ends = [write(low), write(high)] as const;
  return /[<>−]/.test(ends.join("")) ? `${ends[0]} to ${ends[1]}` : `${ends[0]}–${ends[1]}`;
}

/** A unit in words that can follow a number: `per year` becomes `a year`. */
function unitText(unit: string): string {
  return unit.replace(/^per year$/, "a year");
}

/** A share as per cent, to three significant digits unless more are asked for: `11.1 %`. */
export function perCentText(share: number, digits = SIGNIFICANT_DIGITS): string {
  return `${amountText(Number((share * 100).toPrecision(12)), digits)}\u00a0%`;
}

/** A figure that is a share, with its interval in per cent. */
export function inPerCent(figure: Figure): Figure {
  const times100 = (share: number | null): number | null => (share === null ? null : Number((share * 100).toPrecision(12)));
  return { ...figure, value: times100(figure.value), low: times100(figure.low), high: times100(figure.high), unit: "%" };
}

/**
 * A share without an interval, as a decimal; only an exact 0 or 1 is written `0` or `1`, others as `< 0.001` or `>
 * 0.999`.
 */
export function shareText(share: number, decimals = SHARE_DECIMALS): string {
  return fixedShareText(share, decimals);
}

/** A count with thousands separated: `44,640`. */
export function countText(count: number): string {
  return minus(count.toLocaleString("en-GB", { maximumFractionDigits: 1 }));
}

/** A measured amount to three significant digits, with its trailing zeros: `22.0` beside `17.5`. */
function measuredText(amount: number): string {
  const size = Math.abs(amount);
  return size === 0 || size >= 100 || size < 0.001 ? amountText(amount) : minus(amount.toPrecision(SIGNIFICANT_DIGITS));
}

/** An amount to three significant digits, without trailing zeros; whole thousands with separators. */
export function amountText(amount: number, digits = SIGNIFICANT_DIGITS): string {
  if (amount === 0) return "0";
  const size = Math.abs(amount);
  if (size >= 1000) return minus(amount.toLocaleString("en-GB", { maximumFractionDigits: Math.max(0, digits - SIGNIFICANT_DIGITS) }));
  const rounded = Number(amount.toPrecision(digits));
  return minus(Math.abs(rounded) < 0.001 ? rounded.toFixed(8).replace(/0+$/, "") : String(rounded));
}

/**
 * A measured number and its limit, written with enough digits that they read as different whenever they are: 0.5003
 * against 0.5 must not show as 0.5 against 0.5. Rates carry their unit, shares are in per cent; what a count counts,
 * the text beside it says. What was measured is rounded as asked, because the sentences round bounds that way too.
 */
export function contrastTexts(
  measured: number | null,
  limit: number | null,
  unit: string,
  rounding: Rounding = "nearest",
): readonly [string | null, string | null] {
  const suffix = unit.startsWith("per ") ? ` ${unitText(unit)}` : "";
  const write = (x: number | null, digits: number): string | null =>
    x === null ? null : unit === "share" ? perCentText(x, digits) : `${amountText(x, digits)}${suffix}`;
  for (let digits = SIGNIFICANT_DIGITS; ; digits++) {
    const outward =
      measured === null
        ? null
        : unit === "share"
          ? roundedOutward(measured * 100, digits, rounding) / 100
          : roundedOutward(measured, digits, rounding);
    const pair = [write(outward, digits), write(limit, digits)] as const;
    if (pair[0] !== pair[1] || measured === limit || digits === 12) return pair;
  }
}

/** A length of time in words a person would use: `12 s`, `3 min 20 s`, `2 h 5 min`, `3 days 4 h`. */
export function lengthText(seconds: number): string {
  const whole = Math.round(Math.abs(seconds));
  const sign = seconds < 0 && whole > 0 ? "−" : "";
  if (Math.abs(seconds) < 10) return `${sign}${amountText(Math.abs(seconds), 2)} s`;
  const parts: (readonly [number, string])[] = [
    [Math.floor(whole / DAY_SECONDS), whole >= 2 * DAY_SECONDS ? "days" : "day"],
    [Math.floor((whole % DAY_SECONDS) / HOUR_SECONDS), "h"],
    [Math.floor((whole % HOUR_SECONDS) / MINUTE_SECONDS), "min"],
    [whole % MINUTE_SECONDS, "s"],
  ];
  const first = parts.findIndex(([amount]) => amount > 0);
  return `${sign}${parts.slice(first, first + 2).filter(([amount]) => amount > 0).map(([amount, unit]) => `${amount} ${unit}`).join(" ")}`;
}

/** A sentence whose percentages are not torn apart at the end of a line. */
export function heldTogether(text: string): string {
  return text.replace(/(\d) %/g, "$1\u00a0%");
}

/** `1 signal`, `8 signals`. */
export function countOf(count: number, one: string, many = `${one}s`): string {
  return `${countText(count)} ${count === 1 ? one : many}`;
}
