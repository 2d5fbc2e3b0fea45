import { DateTime } from "luxon";
import { zoneOf } from "../ground/zone.js";
import type { Interval } from "../ground/intervals.js";

/** The first and last local day of an audit, as ISO dates. */
export function localDaysOf({ site, period }: { readonly site: { readonly timeZone: string }; readonly period: Interval }): { readonly from: string; readonly to: string } {
  const day = (at: number): string => DateTime.fromMillis(at, { zone: zoneOf(site.timeZone) }).toISODate() ?? "";
  return { from: day(period.from), to: day(period.to - 1) };
}
