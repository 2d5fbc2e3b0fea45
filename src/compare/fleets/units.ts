/* eslint-disable @typescript-eslint/no-non-null-assertion -- the totals of the kinds are in the order of the signals */
import { rollup, sum } from "d3-array";
import type { Counts, SignalCounts } from "../../result/counts.js";
import { addedUp, groupTotals } from "../added-up.js";
import type { Counted, Measured } from "./compare.js";

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
  readonly phantoms: number;
  readonly judgedDays: number;
  readonly silences: number;
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
export function fleetSignals(audits: readonly Counts[]): FleetSignal[] {
  const rows = audits.flatMap(({ site, period, signals }) =>
    signals.map((one): FleetSignal => ({ ...one, site: site.name, days: period.days })),
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
 * Each signal's faults and silences, with what the rates of its kind over the whole fleet would bring it for its own
 * turns and time (indirect standardisation): a busy signal may miss more turns without being worse.
 */
export function measuredSignals(signals: readonly FleetSignal[]): Measured {
  const ofKind = groupTotals(signals, "kind", ["days", "turns", "missedTurns", "phantoms", "judgedDays", "silences"]);
  return {
    faults: signals.map(({ missedTurns, phantoms, turns, judgedDays }, i) => {
      const all = ofKind[i]!;
      return {
        count: missedTurns + phantoms,
        exposure: rate(all.missedTurns, all.turns) * turns + rate(all.phantoms, all.judgedDays) * judgedDays,
      };
    }),
    silences: signals.map(({ silences, days }, i) => ({ count: silences, exposure: rate(ofKind[i]!.silences, ofKind[i]!.days) * days })),
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
