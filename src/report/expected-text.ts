import type { RuleFinding } from "../result/schema.js";
import type { Months } from "../result/months-schema.js";
import { amountText, figureText, shareText } from "./format.js";

/** What is expected at the rates measured, and at the upper ends of their intervals. */
export type Expected = RuleFinding["cutSets"]["expectedMissedShare"]["independent"];
/** A figure of one period with its interval. */
export type Point = Months["series"][number]["points"][number]["missedShare"];

/** `0.26, up to 0.81`, or why it is not known, and what it is at most where that is; rates are counts a year. */
export function expectedText({ value, high, why }: Expected, unit: "share" | "rate"): string {
  const write = (amount: number): string => (unit === "share" ? shareText(amount) : amountText(amount));
  if (value === null) return `${why ?? "not known"}${high === null ? "" : `; at most ${write(high)}`}`;
  return high === null ? write(value) : `${write(value)}, up to ${write(high)}`;
}

/** `0.011 (0.002–0.041)`, or that there is none. */
export function pointText(point: Point, unit: "share" | ""): string {
  const { value, interval } = figureText({ ...point, count: 0, unit, why: null });
  return value === null ? "none" : interval === "no interval" ? value : `${value} (${interval ?? ""})`;
}
