import { Option, type Command } from "commander";
import { DateTime } from "luxon";
import type { AskedPeriod } from "../intake/period.js";

/** The options that name a period, as commander gives them. */
export interface PeriodWords {
  readonly month?: string;
  readonly from?: string;
  readonly to?: string;
}

/** What messages about a period call its parts. */
export const periodOptionNames = { month: "--month", from: "--from", to: "--to" };

/** The command with the options that name a period. */
export function withPeriod(command: Command): Command {
  return command
    .addOption(new Option("--month <yyyy-mm>", "a calendar month of the site's time zone, or last: the month before this one").conflicts(["from", "to"]))
    .option("--from <time>", "begin of the period, a local day or time (default: the first reading)")
    .option("--to <time>", "end of the period, not included (default: the last reading)");
}

/** The period that those options ask for. */
export function askedPeriod(options: PeriodWords, now: number = Date.now()): AskedPeriod {
  if (options.month === "last") return { form: "month", month: monthBefore(now) };
  if (options.month !== undefined) return { form: "month", month: options.month };
  if (options.from !== undefined || options.to !== undefined) return { form: "range", from: options.from ?? null, to: options.to ?? null };
  return { form: "all" };
}

/**
 * The calendar month before the one that it is now, by this machine's clock and zone: a run on the first of a month is
 * about the month that has just ended, at every site.
 */
function monthBefore(now: number): string {
  return DateTime.fromMillis(now).startOf("month").minus({ months: 1 }).toFormat("yyyy-MM");
}
