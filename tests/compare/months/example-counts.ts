import { COUNTS_SCHEMA, type ClockCounts, type Counts, type RuleCounts, type SignalCounts } from "../../../src/result/counts.js";
import type { SensorDays, Upkeep } from "../../../src/result/upkeep.js";

/** What a meter read over 30 stays and 30 absences, a centimetre this way and that. */
export function readsAbout(occupied: number, empty: number): NonNullable<SignalCounts["distances"]> {
  const around = (metres: number): number[] => Array.from({ length: 30 }, (_, i) => metres - 0.0145 + i / 1000);
  return { unit: "cm", present: { nearMetres: 1, farMetres: 1.4, slackMetres: 0.02, maximumMetres: null }, occupied: around(occupied), empty: around(empty) };
}

/** The clocks of a log and a hub, told by 40 changes: the hub's stamps later by so much, and by so much more a day. */
export function clocksApart(seconds: number, drift = 0): ClockCounts {
  return {
    first: "log", second: "hub", correctedSeconds: [0, 0], readAs: ["iso, UTC", "epoch-s, UTC"],
    offset: { value: seconds, low: seconds - 1, high: seconds + 1, count: 40 }, drift: { value: drift, low: drift - 0.05, high: drift + 0.05, count: 40 },
    pairs: [{ signals: ["bay-1-wall", "bay-1-mat"], seconds: Array.from({ length: 40 }, (_, i) => seconds - 1.95 + i / 10) }],
  };
}

/** A quiet month of one meter: 60 visits, none missed. */
export const quietSignal: SignalCounts = {
  signal: "bay-1-wall", subject: "bay-1", subjectClass: "bay", kind: "distance", model: "side-1", firmware: null,
  turns: 120, missedTurns: 0, visits: 60, missedVisits: 0, phantoms: 1, judgedDays: 29, knownDays: 30, silences: 1, silentDays: 0.2, restarts: 0, flaps: 0,
  lagsArriving: Array.from({ length: 40 }, (_, i) => 5 + i / 10), lagsLeaving: [],
  distances: readsAbout(1.2, 2.4),
};

/** A rule that did well. */
export const quietRule: RuleCounts = {
  name: "unlock on arrival", act: "unlock", digest: "aaaaaaaaaaaaaaaa", verdict: "not proven yet", yearsSeen: 0.08, yearsBlind: 0.002,
  firings: { count: 40, right: 40, wrong: 0, unverified: 0 }, wanted: { count: 40, served: 40, late: 0, missed: 0, verified: 40, verifiedFailed: 0 }, yearsUnclear: 0,
  covers: { days: 30, months: ["2026-01"], weekdays: [5, 5, 4, 4, 4, 4, 4], wrongOccasions: [], failureRuns: [], faultsByDay: Array.from({ length: 12 }, () => 1), confirmedHours: new Array<number>(24).fill(30), expectedUnverified: { firings: 0, wanted: 0 }, checked: [{ firings: 40, drawn: 40, wrongDrawn: 0, wrong: 0, unverified: 0 }], variants: 1 },
};

function daysOf(signal: string): Omit<SensorDays, "basis"> {
  return { signal, source: "log", shares: [], turns: [], missed: [], falseReports: [], wrongHours: [], silentHours: [], hiddenHours: [], missedRun: { count: 0, firstDay: 0, lastDay: 0 }, delay: null, rules: [] };
}

/** Month `number` of 2026 at Heron Lane, 30 days from its first. */
export function month(number: number, change: { readonly signal?: Partial<SignalCounts>; readonly rule?: Partial<RuleCounts>; readonly site?: string; readonly clocks?: ClockCounts; readonly limits?: Partial<Upkeep["limits"]>; readonly basis?: SensorDays["basis"] } = {}): Counts {
  const from = Date.UTC(2026, number - 1, 1);
  return {
    schema: COUNTS_SCHEMA,
    made: { at: Date.parse("2026-12-31T00:00:00.000Z"), by: "test" },
    site: { name: change.site ?? "Heron Lane", timeZone: "UTC", confidence: 0.95 },
    period: { from, to: from + 30 * 86_400_000, days: 30, label: `2026-${String(number).padStart(2, "0")}` },
    signals: [{ ...quietSignal, ...change.signal }, { ...quietSignal, signal: "bay-1-mat", kind: "flag", model: null, distances: null }],
    bays: [{ bay: "bay-1", vehicle: null, arrivals: 60, departures: 60 }],
    rules: [{ ...quietRule, ...change.rule }],
    clocks: [change.clocks ?? clocksApart(3)],
    upkeep: {
      days: 30, limits: { missedShare: 0.05, falseShare: 0.05, silentShare: 0.05, lateSeconds: 120, ...change.limits },
      sensors: change.basis === undefined ? [] : [{ ...daysOf("bay-1-wall"), basis: change.basis }],
      pairs: [], outages: [], swapped: [], clocks: [], changes: [], exports: [], nights: [],
    },
  };
}
