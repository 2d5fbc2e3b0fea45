import { rollup, sum } from "d3-array";
import type { Counts, SignalCounts } from "../../result/counts.js";
import { localDaysOf } from "../../result/local-days.js";
import { addedUp } from "../added-up.js";
import { type Counted, type LeftOut, type Measure, type Measured, measures, NOBODY } from "./compare.js";

/** A signal of a site, its periods added up. */
export interface FleetSignal {
  readonly site: string;
  readonly signal: string;
  readonly subject: string;
  readonly subjectClass: SignalCounts["subjectClass"];
  readonly kind: string;
  readonly model: string | null;
  readonly firmware: string | null;
  /** Local days of the audit, first and last. */
  readonly from: string;
  readonly to: string;
  readonly days: number;
  readonly knownDays: number;
  readonly turns: number;
  readonly missedTurns: number;
  readonly phantoms: number;
  readonly judgedDays: number;
  readonly silences: number;
  readonly flaps: number;
}

/** What something else explains of a signal: all its faults (a clock, a swapped channel), and so many silences (of its board). */
export type Explained = (site: string, signal: string) => { readonly faults: boolean; readonly silences: number };
const NOT_EXPLAINED = { faults: false, silences: 0 };

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
export function fleetSignals(audits: readonly Counts[], explained: Explained = () => NOT_EXPLAINED): FleetSignal[] {
  const rows = audits.flatMap(({ site, period, signals }) =>
    signals.map((one): FleetSignal => {
      const { faults, silences } = explained(site.name, one.signal);
      const judged = faults ? { turns: 0, missedTurns: 0, phantoms: 0, judgedDays: 0 } : {};
      return { ...one, ...judged, silences: Math.max(0, one.silences - silences), site: site.name, ...localDaysOf({ site, period }), days: period.days };
    }),
  );
  const sensor = ["site", "signal", "model", "firmware", "kind", "subject"] as const;
  return addedUp(rows, sensor, ["days", "knownDays", "turns", "missedTurns", "phantoms", "judgedDays", "silences", "flaps"]);
}

/** The bays of all sites with their signals, sorted by site and bay. */
export function fleetBays(audits: readonly Counts[], signals: readonly FleetSignal[]): FleetBay[] {
  const rows = audits.flatMap(({ site, bays }) => bays.map((bay) => ({ ...bay, site: site.name })));
  const bays = addedUp(rows, ["site", "bay"], ["arrivals", "departures"]);
  const watching = rollup(
    signals.entries(),
    (of) => of.map(([index]) => index),
    ([, { site, subject }]) => placeKey(site, subject),
  );
  return bays.map((bay) => ({ ...bay, signals: watching.get(placeKey(bay.site, bay.bay)) ?? [] }));
}

/** Tells the subjects of all sites apart. */
export function placeKey(site: string, subject: string): string {
  return JSON.stringify([site, subject]);
}

/**
 * Each signal's faults, silences and flickers, with what the rates of its kind over the whole fleet would bring it for
 * its own turns and time (indirect standardisation): a busy signal may miss more turns without being worse. Signals in
 * `leftOut` do not count towards the rates of that measure.
 */
export function measuredSignals(signals: readonly FleetSignal[], leftOut: LeftOut = NOBODY): Measured {
  const totals = (measure: Measure): ReadonlyMap<string, Totals> =>
    rollup(signals.filter((_, index) => !leftOut[measure].has(index)), totalsOf, ({ kind }) => kind);
  const [faults, silences, flickers] = measures.map(totals) as [Rates, Rates, Rates];
  const per = (rates: Rates, kind: string, count: keyof Totals, exposure: keyof Totals): number => {
    const all = rates.get(kind);
    return all === undefined ? 0 : rate(all[count], all[exposure]);
  };
  return {
    faults: signals.map(({ missedTurns, phantoms, turns, judgedDays, kind }) => ({
      count: faultsOf({ missedTurns, phantoms }),
      exposure: (per(faults, kind, "missedTurns", "turns") * turns) / TURNS_A_VISIT + per(faults, kind, "phantoms", "judgedDays") * judgedDays,
    })),
    silences: signals.map((one) => ({ count: one.silences, exposure: per(silences, one.kind, "silences", "days") * one.days })),
    flickers: signals.map((one) => ({ count: one.flaps, exposure: per(flickers, one.kind, "flaps", "days") * one.days })),
  };
}

/** One that passed over a visit missed its beginning and its end. */
const TURNS_A_VISIT = 2;

/** Visits passed over, and false reports. Two changes missed are one mishap: counted twice they would look like a cluster. */
function faultsOf({ missedTurns, phantoms }: Pick<FleetSignal, "missedTurns" | "phantoms">): number {
  return Math.ceil(missedTurns / TURNS_A_VISIT) + phantoms;
}

type Totals = Pick<FleetSignal, "days" | "turns" | "missedTurns" | "phantoms" | "judgedDays" | "silences" | "flaps">;
type Rates = ReadonlyMap<string, Totals>;

function totalsOf(all: readonly FleetSignal[]): Totals {
  const total = (key: keyof Totals): number => sum(all, (one) => one[key]);
  return {
    days: total("days"), turns: total("turns"), missedTurns: total("missedTurns"), phantoms: total("phantoms"),
    judgedDays: total("judgedDays"), silences: total("silences"), flaps: total("flaps"),
  };
}

/** Events per exposure; 0 without any exposure. */
export function rate(count: number, exposure: number): number {
  return exposure === 0 ? 0 : count / exposure;
}

/** Several units taken as one. */
export function together(counted: readonly Counted[]): Counted {
  return { count: sum(counted, (one) => one.count), exposure: sum(counted, (one) => one.exposure) };
}
