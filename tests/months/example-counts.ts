import { COUNTS_SCHEMA, type Counts, type RuleCounts, type SignalCounts } from "../../src/findings/counts-schema.js";

/** A quiet month of one meter: 60 visits, none missed. */
export const quietSignal: SignalCounts = {
  signal: "bay-1-wall", subject: "bay-1", subjectClass: "bay", kind: "distance", model: "side-1", firmware: null,
  turns: 120, missedTurns: 0, visits: 60, missedVisits: 0, phantoms: 1, judgedDays: 29, knownDays: 30, silences: 1, silentDays: 0.2, restarts: 0, flaps: 0,
  lagsArriving: Array.from({ length: 40 }, (_, i) => 5 + i / 10), lagsLeaving: [],
};

/** A rule that did well. */
export const quietRule: RuleCounts = {
  name: "unlock on arrival", act: "unlock", digest: "aaaaaaaaaaaaaaaa", verdict: "not proven yet", yearsSeen: 0.08, yearsBlind: 0.002,
  firings: { count: 40, right: 40, wrong: 0, unverified: 0 }, wanted: { count: 40, served: 40, late: 0, missed: 0, verified: 40 },
};

/** Month `number` of 2026 at Heron Lane, 30 days from its first. */
export function month(number: number, change: { readonly signal?: Partial<SignalCounts>; readonly rule?: Partial<RuleCounts>; readonly site?: string } = {}): Counts {
  const from = Date.UTC(2026, number - 1, 1);
  return {
    schema: COUNTS_SCHEMA,
    made: { at: "2026-12-31T00:00:00.000Z", by: "test" },
    site: { name: change.site ?? "Heron Lane", timeZone: "UTC", confidence: 0.95 },
    period: { from: new Date(from).toISOString(), to: new Date(from + 30 * 86_400_000).toISOString(), days: 30, label: `2026-${String(number).padStart(2, "0")}` },
    signals: [{ ...quietSignal, ...change.signal }],
    bays: [{ bay: "bay-1", vehicle: null, arrivals: 60, departures: 60 }],
    rules: [{ ...quietRule, ...change.rule }],
  };
}
