import type { Counts, SignalCounts } from "../../result/counts-schema.js";

/** A signal of a site, its periods added up. */
export interface FleetSignal {
  readonly site: string;
  readonly signal: string;
  readonly subject: string;
  readonly subjectClass: SignalCounts["subjectClass"];
  readonly kind: string;
  readonly model: string | null;
  readonly firmware: string | null;
  readonly days: number;
  readonly knownDays: number;
  readonly turns: number;
  readonly missedTurns: number;
  readonly visits: number;
  readonly missedVisits: number;
  readonly phantoms: number;
  readonly judgedDays: number;
  readonly silences: number;
  readonly restarts: number;
  readonly flaps: number;
}

/** A bay of a site, its periods added up; `signals` are indices into the fleet's signals. */
export interface FleetBay {
  readonly site: string;
  readonly bay: string;
  readonly vehicle: string | null;
  readonly arrivals: number;
  readonly departures: number;
  readonly signals: readonly number[];
}

/**
 * Adds up the periods of each site, sorted by site and signal. A signal whose sensor was replaced between two periods
 * (another model or firmware) is two: each is judged by its own time.
 */
export function fleetSignals(parts: readonly Counts[]): FleetSignal[] {
  const added = new Map<string, FleetSignal>();
  for (const { site, period, signals } of parts) {
    for (const one of signals) {
      const key = JSON.stringify([site.name, one.signal, one.model, one.firmware, one.kind, one.subject]);
      const before = added.get(key);
      const sum = (read: (signal: FleetSignal) => number, own: number): number => (before === undefined ? own : read(before) + own);
      added.set(key, {
        site: site.name,
        signal: one.signal,
        subject: one.subject,
        subjectClass: one.subjectClass,
        kind: one.kind,
        model: one.model,
        firmware: one.firmware,
        days: sum((signal) => signal.days, period.days),
        knownDays: sum((signal) => signal.knownDays, one.knownDays),
        turns: sum((signal) => signal.turns, one.turns),
        missedTurns: sum((signal) => signal.missedTurns, one.missedTurns),
        visits: sum((signal) => signal.visits, one.visits),
        missedVisits: sum((signal) => signal.missedVisits, one.missedVisits),
        phantoms: sum((signal) => signal.phantoms, one.phantoms),
        judgedDays: sum((signal) => signal.judgedDays, one.judgedDays),
        silences: sum((signal) => signal.silences, one.silences),
        restarts: sum((signal) => signal.restarts, one.restarts),
        flaps: sum((signal) => signal.flaps, one.flaps),
      });
    }
  }
  return sortedByKey(added);
}

/** The bays of all sites with their signals, sorted by site and bay. */
export function fleetBays(parts: readonly Counts[], signals: readonly FleetSignal[]): FleetBay[] {
  const bySubject = new Map<string, number[]>();
  signals.forEach(({ site, subject }, index) => {
    const key = JSON.stringify([site, subject]);
    const list = bySubject.get(key);
    if (list === undefined) bySubject.set(key, [index]);
    else list.push(index);
  });
  const added = new Map<string, FleetBay>();
  for (const { site, bays } of parts) {
    for (const { bay, vehicle, arrivals, departures } of bays) {
      const key = JSON.stringify([site.name, bay]);
      const before = added.get(key);
      added.set(key, {
        site: site.name,
        bay,
        vehicle,
        arrivals: (before?.arrivals ?? 0) + arrivals,
        departures: (before?.departures ?? 0) + departures,
        signals: bySubject.get(key) ?? [],
      });
    }
  }
  return sortedByKey(added);
}

function sortedByKey<Unit>(units: ReadonlyMap<string, Unit>): Unit[] {
  return [...units].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, unit]) => unit);
}
