/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices are of the signals */
import { rollup, sum } from "d3-array";
import type { Counts, SignalCounts } from "../../result/counts.js";
import { localDaysOf } from "../../result/local-days.js";
import { addedUp } from "../added-up.js";
import type { Measured } from "./compare.js";
import type { Counted } from "./counted.js";

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
 * its own turns and time (indirect standardisation): a busy signal may miss more turns without being worse. How faults divide into
 * missed turns and false reports is learnt without the worst fifth of the kind, or one that chatters would pass for what is usual; how
 * many there are on the whole is for `compareGroups` to say, which no single one can bend either.
 */
export function measuredSignals(signals: readonly FleetSignal[]): Measured {
  const first = faultsBy(signals, new Set());
  return {
    faults: faultsBy(signals, worstOf(signals, first)),
    silences: perDay(signals, "silences"),
    flickers: perDay(signals, "flaps"),
  };
}

function faultsBy(signals: readonly FleetSignal[], leftOut: ReadonlySet<number>): Counted[] {
  const totals = totalsByKind(signals.filter((_, index) => !leftOut.has(index)));
  return signals.map(({ missedTurns, phantoms, turns, judgedDays, kind }) => {
    const all = totals.get(kind);
    const [missing, making] = all === undefined ? [0, 0] : [rate(all.missedTurns, all.turns), rate(all.phantoms, all.judgedDays)];
    return { count: faultsOf({ missedTurns, phantoms }), exposure: (missing * turns) / TURNS_A_VISIT + making * judgedDays };
  });
}

function perDay(signals: readonly FleetSignal[], count: "silences" | "flaps"): Counted[] {
  const totals = totalsByKind(signals);
  return signals.map((one) => {
    const all = totals.get(one.kind);
    return { count: one[count], exposure: all === undefined ? 0 : rate(all[count], all.days) * one.days };
  });
}

/** So many of the worst are left out. Our own choice. */
const WORST_SHARE = 0.2;
/** A signal with fewer faults bends nothing. */
const LEAST_FAULTS = 3;

function worstOf(signals: readonly FleetSignal[], faults: readonly Counted[]): Set<number> {
  const beyond = faults.map(({ count, exposure }) => (count < LEAST_FAULTS ? 0 : (count - exposure) / Math.sqrt(exposure + 1)));
  const byKind = rollup(signals.keys(), (of) => [...of], (index) => signals[index]!.kind);
  return new Set(
    [...byKind.values()].flatMap((of) =>
      of
        .filter((index) => beyond[index]! > 0)
        .sort((a, b) => beyond[b]! - beyond[a]!)
        .slice(0, Math.floor(of.length * WORST_SHARE)),
    ),
  );
}

/** One that passed over a visit missed its beginning and its end. */
const TURNS_A_VISIT = 2;

/** Visits passed over, and false reports. Two changes missed are one mishap: counted twice they would look like a cluster. */
function faultsOf({ missedTurns, phantoms }: Pick<FleetSignal, "missedTurns" | "phantoms">): number {
  return Math.ceil(missedTurns / TURNS_A_VISIT) + phantoms;
}

type Totals = Pick<FleetSignal, "days" | "turns" | "missedTurns" | "phantoms" | "judgedDays" | "silences" | "flaps">;

function totalsByKind(signals: readonly FleetSignal[]): ReadonlyMap<string, Totals> {
  return rollup(signals, totalsOf, ({ kind }) => kind);
}

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
