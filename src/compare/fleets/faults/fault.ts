import { DateTime } from "luxon";
import { zoneOf } from "../../../ground/zone.js";
import { sum } from "d3-array";
import type { Counts, SignalCounts } from "../../../result/counts.js";
import type { FailureMode, WorkOrder } from "../../../result/fleet.js";
import type { SensorDays, Upkeep } from "../../../result/upkeep.js";

/** Something wrong at one place of one site in one audit, before it is ordered, and before earlier audits are looked at. */
export interface Fault
  extends Pick<WorkOrder, "kind" | "site" | "place" | "subject" | "gate" | "sensors" | "mode" | "model" | "firmware" | "turns" | "wrong" | "silentHours" | "wrongShareLow" | "nightsLost" | "rules" | "reason"> {
  /** What the counts alone call it, where the site's page says more: its order keeps that key, whatever the page says next month. */
  readonly countedAs?: WorkOrder["mode"];
  readonly firstDay: number;
  readonly lastDay: number;
  /** How grave it is beside others that cost the rules the same. */
  readonly weight: number;
  /** Its own figure, to be followed from audit to audit. */
  readonly size: { readonly unit: string; readonly value: number };
  /** What to do where the audit says it itself; null: what its mode asks for. */
  readonly ask: string | null;
}

/** One audit with what its faults are found from. */
export interface Examined {
  readonly counts: Counts;
  readonly upkeep: Upkeep;
  readonly sensors: readonly Sensor[];
}

/** A signal with its days. */
export interface Sensor {
  readonly counts: SignalCounts;
  readonly days: SensorDays;
}

/** Counts kept by an older version have no days: all that happened is put on the first one. */
export function examined(counts: Counts): Examined {
  const upkeep = counts.upkeep ?? bareUpkeep(counts);
  const days = new Map(upkeep.sensors.map((one) => [one.signal, one]));
  return { counts, upkeep, sensors: counts.signals.map((one) => ({ counts: one, days: days.get(one.signal) ?? bareDays(one) })) };
}

function bareUpkeep({ period }: Counts): Upkeep {
  const limits = { missedShare: 0.05, falseShare: 0.05, silentShare: 0.05, lateSeconds: 120 };
  return { days: Math.round(period.days), limits, sensors: [], pairs: [], outages: [], swapped: [], clocks: [], changes: [], exports: [], nights: [] };
}

function bareDays(one: SignalCounts): SensorDays {
  return {
    signal: one.signal, source: "", shares: [], turns: [one.turns], missed: [one.missedTurns], falseReports: [one.phantoms],
    wrongHours: [], silentHours: [one.silentDays * 24], hiddenHours: [], missedRun: { count: 0, firstDay: 0, lastDay: 0 }, delay: null, rules: [],
    basis: { diary: 0, several: one.judgedDays, one: 0 },
  };
}

/** The local date of a day of the audit. */
export function dateOf({ period, site }: Pick<Counts, "period" | "site">, day: number): string {
  return DateTime.fromMillis(period.from, { zone: zoneOf(site.timeZone) }).startOf("day").plus({ days: day }).toISODate() ?? "";
}

/** The first and last day with an amount; the whole audit where no day is known. */
export function daysWith(amounts: readonly (readonly number[])[], days: number): { readonly firstDay: number; readonly lastDay: number } {
  const has = Array.from({ length: days }, (_, day) => amounts.some((of) => (of[day] ?? 0) > 0));
  const first = has.indexOf(true);
  return first < 0 ? { firstDay: 0, lastDay: Math.max(0, days - 1) } : { firstDay: first, lastDay: has.lastIndexOf(true) };
}

/** Days on which a rule failed or acted wrongly, put down to one of the signals. */
export function nightsLostTo(signals: readonly string[], { nights }: Pick<Upkeep, "nights">): number {
  const lost = nights.flatMap(({ days }) => days.filter(({ outcome, signals: blamed }) => (outcome === "failed" || outcome === "wrong") && blamed.some((one) => signals.includes(one))));
  return new Set(lost.map(({ day }) => day)).size;
}

/** Every change that is told late weighs up to one that was missed, the later the more. Our own choice. */
export function lateWeight({ counts, days: { delay } }: Sensor, { limits }: Examined["upkeep"]): number {
  if (delay === null || delay.medianSeconds <= limits.lateSeconds) return 0;
  return Math.max(counts.turns, delay.count) * (1 - limits.lateSeconds / delay.medianSeconds);
}

/** What several sensors of one place have in common. */
export function sharedBy(sensors: readonly Sensor[]): Pick<Fault, "rules" | "model" | "firmware" | "gate" | "subject"> {
  const only = (values: readonly (string | null)[]): string | null => (new Set(values).size === 1 ? (values[0] ?? null) : null);
  const rules = [...new Set(sensors.flatMap(({ days }) => days.rules))].sort();
  return {
    rules,
    model: only(sensors.map(({ counts }) => counts.model)),
    firmware: only(sensors.map(({ counts }) => counts.firmware)),
    gate: rules.length > 0 && sensors.some(({ counts }) => counts.subjectClass === "door"),
    subject: only(sensors.map(({ counts }) => counts.subject)),
  };
}

/** The sum of what stands in days. */
export function total(byDay: readonly number[]): number {
  return sum(byDay);
}

/** A mode as one says it. */
export type Mode = FailureMode;
