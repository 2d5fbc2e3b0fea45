import { sum } from "d3-array";
import { certaintyText } from "../ground/certainty.js";
import type { Interval } from "../ground/intervals.js";
import { DAYS_PER_YEAR, HOUR_SECONDS, SECOND_MS } from "../ground/units.js";
import type { Months } from "../result/months.js";
import { roundedOutward, type Rounding } from "./decimals.js";
import {
  amountText,
  contrastTexts,
  countText,
  type Figure,
  figureLine,
  figureText,
  inPerCent,
  lengthText,
  perCentText,
  shareText,
} from "./format.js";
import type { RuleFinding } from "../result/rules.js";

/** What is expected at the rates measured, and at the upper ends of their intervals. */
type Expected = RuleFinding["cutSets"]["expectedMissedShare"]["independent"];
/** A figure of one period with its interval. */
type Point = Months["series"][number]["points"][number]["missedShare"];
type Reason = RuleFinding["reasons"][number];
/** A bay or signal of a fleet. */
interface Standing {
  readonly faults: { readonly standsOut: boolean };
  readonly silences: { readonly standsOut: boolean };
}

const LEAST_P = 0.0001;
const LEAST_RATIO = 0.01;
const LEAST_TIME_SHARE = 0.001;
/** No bound carries more. */
const BOUND_DIGITS = 2;
/** Verdicts in the order of a tally: the worst first. */
const tallied = ["do not enable", "not proven yet", "clear to enable"] as const;

/**
 * Every way in which the report writes a number of the findings, by name. A number on the page carries the name and the
 * path it came from (see parts/datum.tsx), so that anybody can take the value out of findings.json and write it again.
 */
export const writers = {
  amount: amountText,
  count: (count: number) => countText(count),
  share: (share: number) => shareText(share),
  /** A share that a person chose, a limit or a confidence, in per cent. */
  "chosen share": (share: number) => perCentText(share),
  /** A share of the time, in per cent; only an exact 0 is written as 0. */
  "share of time": (share: number) => (share > 0 && share < LEAST_TIME_SHARE ? `< ${perCentText(LEAST_TIME_SHARE)}` : perCentText(share)),
  /** Years, as days. */
  days: (years: number) => amountText(years * DAYS_PER_YEAR),
  hours: (hours: number) => lengthText(hours * HOUR_SECONDS),
  seconds: lengthText,
  /** Seconds with their sign: positive is later. */
  lag: (seconds: number) => `${seconds < 0 ? "" : "+"}${lengthText(seconds)}`,
  probability: (p: number) => (p < LEAST_P ? `< ${LEAST_P}` : amountText(p, 2)),
  /** A value with interval and count. */
  figure: figureLine,
  /** The same where the head of the column gives the unit. */
  "figure without unit": (figure: Figure) => figureLine({ ...figure, unit: "" }),
  /** A share with its interval, in per cent. */
  "figure in per cent": (figure: Figure) => figureLine(inPerCent(figure)),
  "measured against its limit": (reason: Reason) =>
    contrastTexts(reason.measured, reason.limit, reason.unit, roundingOf(reason))[0] ?? "no bound",
  /** The same where the term beside it gives the unit. */
  "measured without unit": (reason: Reason) => contrastTexts(reason.measured, reason.limit, "", roundingOf(reason))[0] ?? "no bound",
  "limit to what was measured": (reason: Reason) =>
    contrastTexts(reason.measured, reason.limit, reason.unit, roundingOf(reason))[1] ?? "none",
  /** A rate that is not passed: rounded up, as the sentences of the verdict do. */
  "at most": (rate: number) => outward(rate, "up"),
  /** A rate that is reached: rounded down. */
  "at least": (rate: number) => outward(rate, "down"),
  /** A share that is not passed, in per cent. */
  "share rounded up": (share: number) => perCentText(roundedOutward(share * 100, BOUND_DIGITS, "up") / 100),
  /** A share as a person would state it, never a larger one than the one given: `1 in 50`. */
  "one in": oneInText,
  /** How many months from now. */
  "months from now": (months: number) => (months === 0 ? "now" : `${countText(months)} more months`),
  /** A length in metres, in centimetres, to the millimetre where that matters. */
  centimetres: (metres: number) => amountText(metres * 100),
  /** Expected at the rates measured and at most; a count a year. */
  "expected rate": (expected: Expected) => expectedText(expected, "rate"),
  "expected share": (expected: Expected) => expectedText(expected, "share"),
  /** One period's figure with its interval. */
  "point as share": (point: Point) => pointText(point, "share"),
  "point as rate": (point: Point) => pointText(point, ""),
  "point as centimetres": ({ value, low, high }: Point) =>
    pointText({ value: centimetres(value), low: centimetres(low), high: centimetres(high) }, ""),
  /** The time between two ends. */
  span: (span: Interval) => lengthText(spanSeconds(span)),
  /** How many there are. */
  size: (list: readonly unknown[]) => countText(list.length),
  /** How many there are in all the lists of an object. */
  members: (lists: Readonly<Record<string, readonly unknown[]>>) => countText(Object.values(lists).flat().length),
  /** The sum over what a `*` in the path stands for. */
  sum: (parts: readonly number[]) => countText(sum(parts)),
  /** How many different ones a list holds. */
  distinct: (list: readonly string[]) => countText(new Set(list).size),
  /** A rate as a multiple of another. */
  ratio: (ratio: number) => (ratio > 0 && ratio < LEAST_RATIO ? `< ${LEAST_RATIO}` : amountText(ratio, 2)),
  /** A confidence as one would say it. */
  certainty: certaintyText,
  /** What a confidence leaves to chance, in per cent without the sign. */
  "left to chance": (confidence: number) => amountText((1 - confidence) * 100),
  /** How many of a fleet's bays or signals stand out among their fellows. */
  "standing out": (all: readonly Standing[]) => countText(standingOut(all)),
  /** The same by faults alone. */
  "faults standing out": (all: readonly Standing[]) => countText(faultsStandingOut(all)),
  /** How many rules of many sites have each verdict; a list a site. */
  "tally of verdicts": (verdicts: readonly (readonly string[])[]) =>
    tallied.map((verdict) => `${countText(verdicts.flat().filter((one) => one === verdict).length)} ${verdict}`).join(", "),
} as const;

/** The name of a way of writing. */
export type WriterName = keyof typeof writers;
/** What each way of writing takes. */
export type Written<Name extends WriterName> = Parameters<(typeof writers)[Name]>[0];

/** The plain number behind what is written, for machines and for sorting; null where there is none. */
export function plainNumber(written: unknown, as: WriterName): number | null {
  if (as === "limit to what was measured") return (written as Reason).limit;
  if (as === "distinct") return new Set(written as readonly string[]).size;
  if (as === "standing out") return standingOut(written as readonly Standing[]);
  if (as === "faults standing out") return faultsStandingOut(written as readonly Standing[]);
  if (as === "tally of verdicts") return (written as readonly (readonly string[])[]).flat().length;
  if (typeof written === "number") return written;
  if (Array.isArray(written))
    return written.every((part) => typeof part === "number") && written.length > 0 ? sum(written) : written.length;
  if (typeof written !== "object" || written === null) return null;
  if ("wrongUpper" in written) return plainNumber(written.wrongUpper, as);
  if ("from" in written && "to" in written) return spanSeconds(written as Interval);
  if ("value" in written) return plainNumber(written.value, as);
  if ("measured" in written) return plainNumber(written.measured, as);
  return Object.values(written).flat().length;
}

/** An upper bound is rounded up, a lower one down, as the sentences of the verdict do. */
function roundingOf({ code }: Reason): Rounding {
  return code.endsWith("upper-bound") || code === "no-limits" ? "up" : code.endsWith("lower-bound") ? "down" : "nearest";
}

function outward(bound: number, rounding: Rounding): string {
  return amountText(roundedOutward(bound, BOUND_DIGITS, rounding));
}

function oneInText(share: number): string {
  return share >= 1 ? "all" : `1 in ${countText(Math.ceil(Number((1 / share).toPrecision(9))))}`;
}

function centimetres(metres: number | null): number | null {
  return metres === null ? null : metres * 100;
}

function spanSeconds({ from, to }: Interval): number {
  return (to - from) / SECOND_MS;
}

function standingOut(all: readonly Standing[]): number {
  return all.filter(({ faults, silences }) => faults.standsOut || silences.standsOut).length;
}

function faultsStandingOut(all: readonly Standing[]): number {
  return all.filter(({ faults }) => faults.standsOut).length;
}

/** `0.26, up to 0.81`, or why it is not known, and what it is at most where that is; rates are counts a year. */
function expectedText({ value, high, why }: Expected, unit: "share" | "rate"): string {
  const write = (amount: number): string => (unit === "share" ? shareText(amount) : amountText(amount));
  if (value === null) return `${why ?? "not known"}${high === null ? "" : `; at most ${write(high)}`}`;
  return high === null ? write(value) : `${write(value)}, up to ${write(high)}`;
}

/** `0.011 (0.002–0.041)`, or that there is none. */
function pointText(point: Point, unit: "share" | ""): string {
  const { value, interval } = figureText({ ...point, count: 0, unit, why: null });
  return value === null ? "none" : interval === "no interval" ? value : `${value} (${interval ?? ""})`;
}
