/* eslint-disable @typescript-eslint/no-non-null-assertion -- standings are in the order of what was compared; a make has at least one signal, and its first names the model */
import { greatest, max, min, permute, rollup, sum } from "d3-array";
import type { Fleet, FleetMakeFinding, FleetStanding } from "../../result/fleet.js";
import { type Compared, compareFamily, eachAmong, type Measured, standFamily, type Standings } from "./compare.js";
import type { Counted } from "./counted.js";
import { fleetPairs, measuredPairs, pairFindings, type FleetPair } from "./pairs.js";
import type { Round } from "./rounds.js";
import { fleetBays, fleetSignals, measuredSignals, placeKey, together, type Explained, type FleetBay, type FleetSignal } from "./units.js";

/** Everything of one round among its fellows. */
export type Comparisons = Pick<Fleet, "bays" | "pairs" | "signals" | "models" | "firmwares">;

/**
 * Compares the sites of one round. Families of tests, each adjusted by itself (Benjamini & Hochberg 1995): all bays, all
 * signals, all pairs of signals, all models, all firmwares; in each, faults, silences and flickers together. Where two
 * signals differ and nobody can tell which is wrong, their pair has the fault, not they. Signals are compared with
 * signals of the same kind, a model with the other signals of its kind, a firmware with the other signals of its model.
 * What something else explains (see `wideFaults`) is nobody's fault here. A bay's exposure is the sum of its signals' and pairs', each by the rate of its kind.
 */
export function comparisonsOf(audits: Round, confidence: number, explained?: Explained): Comparisons {
  const signals = fleetSignals(audits, explained);
  const bays = fleetBays(audits, signals);
  const pairs = fleetPairs(audits, signals);
  const measured = measuredSignals(signals);
  const standings = standFamily(compareFamily(measured, eachAmong(signals, (one) => one.kind), signals.length, confidence), confidence);
  const ofPairs = measuredPairs(pairs);
  return {
    bays: bayFindings(bays, signals, pairs, measured, ofPairs, confidence),
    pairs: pairFindings(pairs, ofPairs, signals, confidence),
    signals: signalFindings(signals, standings),
    models: makeFindings(signals, measured, "model", confidence),
    firmwares: makeFindings(signals, measured, "firmware", confidence),
  };
}

function bayFindings(
  bays: readonly FleetBay[],
  signals: readonly FleetSignal[],
  pairs: readonly FleetPair[],
  measured: Measured,
  ofPairs: readonly Counted[],
  confidence: number,
): Fleet["bays"] {
  const pairsAt = rollup(
    pairs.entries(),
    (of) => of.map(([index]) => index),
    ([, { site, subject }]) => placeKey(site, subject),
  );
  const faults = bays.map(({ site, bay, signals: own }) => {
    const apart = pairsAt.get(placeKey(site, bay)) ?? [];
    return together([...permute(measured.faults, own), ...permute(ofPairs, apart)]);
  });
  const silences = bays.map(({ signals: own }) => together(permute(measured.silences, own)));
  const flickers = bays.map(({ signals: own }) => together(permute(measured.flickers, own)));
  const standings = standFamily(compareFamily({ faults, silences, flickers }, eachAmong(bays, () => "bay"), bays.length, confidence), confidence);
  return bays.map(({ site, bay, vehicle, arrivals, departures, signals: watching }, i) => {
    const own = permute(signals, watching);
    return {
      site,
      bay,
      vehicle,
      arrivals,
      departures,
      signals: [...new Set(own.map((one) => one.signal))],
      ...useOf(own),
      ...standings[i]!,
    };
  });
}

function signalFindings(signals: readonly FleetSignal[], standings: readonly Standings[]): Fleet["signals"] {
  return signals.map((one, i) => {
    const { site, signal, subject, subjectClass, kind, model, firmware } = one;
    return { site, signal, subject, subjectClass, kind, model, firmware, ...useOf([one]), ...standings[i]! };
  });
}

/**
 * Models among the signals of their kind, or firmwares among the signals of their model. Signals that name none are
 * fellows all the same. A make stands out only if it does so
 * without its worst quarter too: no model is blamed for a few sensors.
 */
function makeFindings(signals: readonly FleetSignal[], measured: Measured, of: "model" | "firmware", confidence: number): FleetMakeFinding[] {
  const makeOf = ({ kind, model, firmware }: FleetSignal): string | null =>
    model === null || (of === "firmware" && firmware === null) ? null : JSON.stringify([kind, model, of === "firmware" ? firmware : null]);
  const fellowsOf = ({ kind, model }: FleetSignal): string | null =>
    of === "model" ? kind : model === null ? null : JSON.stringify([kind, model]);
  const makes = [...indicesBy(signals, makeOf)]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, indices]) => ({ indices, first: signals[indices[0]!]!, worst: greatest(indices, (a, b) => measured.faults[a]!.count - measured.faults[b]!.count)!, rest: withoutWorst(indices, measured) }));
  const fellowships = [...indicesBy(signals, fellowsOf)].map(([key, within]) => ({
    within,
    groups: makes.flatMap(({ first, indices, rest }, place) => (fellowsOf(first) !== key ? [] : [{ place, of: indices }, ...(rest.length === 0 ? [] : [{ place: makes.length + place, of: rest, apart: indices }])])),
  }));
  // All makes and then all of them without their worst, which are then no fellows either: each half is adjusted by itself.
  const compared = compareFamily(measured, fellowships, 2 * makes.length, confidence);
  const half = (from: number): Standings[] => {
    const of = (measure: keyof Compared): Compared["faults"] => compared[measure].slice(from, from + makes.length);
    return standFamily({ faults: of("faults"), silences: of("silences"), flickers: of("flickers") }, confidence);
  };
  const [all, rest] = [half(0), half(makes.length)];
  const both = (one: FleetStanding, other: FleetStanding): FleetStanding => ({ ...one, standsOut: one.standsOut && other.standsOut });
  return makes.map(({ indices, first, worst }, i) => {
    const own = permute(signals, indices);
    const [count, most] = [sum(indices, (index) => measured.faults[index]!.count), measured.faults[worst]!.count];
    return {
      kind: first.kind,
      model: first.model!,
      firmware: of === "firmware" ? first.firmware : null,
      signals: own.length,
      sites: new Set(own.map((one) => one.site)).size,
      worst: count === 0 ? null : { site: signals[worst]!.site, signal: signals[worst]!.signal, faults: most, share: most / count },
      ...useOf(own),
      faults: both(all[i]!.faults, rest[i]!.faults),
      silences: both(all[i]!.silences, rest[i]!.silences),
      flickers: both(all[i]!.flickers, rest[i]!.flickers),
    };
  });
}

/** A make must stand out without so many of its sensors, the worst: at least one. Our own choice. */
const WORST_SHARE = 0.25;

/** The sensors of a make without those with most faults and most silences. */
function withoutWorst(indices: readonly number[], { faults, silences }: Measured): number[] {
  const out = Math.max(1, Math.ceil(WORST_SHARE * indices.length));
  const worst = (of: Measured["faults"]): number[] => indices.toSorted((a, b) => of[b]!.count - of[a]!.count).slice(0, out);
  const left = new Set([...worst(faults), ...worst(silences)]);
  return indices.filter((index) => !left.has(index));
}

/** Indices by key, in the order of first appearance; null keys are left out. */
function indicesBy(signals: readonly FleetSignal[], keyOf: (one: FleetSignal) => string | null): Map<string, number[]> {
  const keyed = signals.flatMap((one, index) => {
    const key = keyOf(one);
    return key === null ? [] : [{ key, index }];
  });
  return rollup(
    keyed,
    (same) => same.map(({ index }) => index),
    ({ key }) => key,
  );
}

function useOf(
  signals: readonly FleetSignal[],
): Pick<FleetMakeFinding, "from" | "to" | "days" | "knownShare" | "turns" | "missedTurns" | "phantoms" | "judgedDays"> {
  const days = sum(signals, (one) => one.days);
  return {
    from: min(signals, ({ from }) => from) ?? "",
    to: max(signals, ({ to }) => to) ?? "",
    days,
    knownShare: days === 0 ? 0 : Math.min(1, sum(signals, (one) => one.knownDays) / days),
    turns: sum(signals, (one) => one.turns),
    missedTurns: sum(signals, (one) => one.missedTurns),
    phantoms: sum(signals, (one) => one.phantoms),
    judgedDays: sum(signals, (one) => one.judgedDays),
  };
}
