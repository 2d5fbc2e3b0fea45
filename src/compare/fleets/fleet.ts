import type { Counts } from "../../result/counts-schema.js";
import { groupBy, measuredSignals, together } from "./exposures.js";
import { standFamily, type Measured } from "./family.js";
import type { Member } from "./compare.js";
import { fleetPairs, measuredPairs, pairFindings, type FleetPair } from "./pairs.js";
import { distinctParts, overlappingParts } from "./parts.js";
import { FLEET_SCHEMA, type Fleet, type FleetMakeFinding } from "../../result/fleet-schema.js";
import { sendFirst } from "./send-first.js";
import { fleetBays, fleetSignals, type FleetBay, type FleetSignal } from "./units.js";

/** What a fleet result says of its own making. */
export interface FleetMaking {
  readonly madeAt: number;
  readonly madeBy: string;
  readonly leftOut: readonly { readonly what: string; readonly why: string }[];
}

/**
 * Compares the finished audits of many sites and months. A pure function of the set of audits: their order, and the runs
 * and machines they come from, make no difference. Audits given twice (equal but for their making) count once.
 *
 * Families of tests, each adjusted by itself (Benjamini & Hochberg 1995): all bays, all signals, all pairs of signals, all models, all
 * firmwares; in each, faults and silences together. Where two signals differ and nobody can tell which is wrong, their pair has the fault, not they. Signals are compared with signals of the same kind, a model with the other signals of its
 * kind, a firmware with the other signals of its model. A bay's exposure is the sum of its signals' and pairs', each by the rate of its kind.
 * @throws RangeError when two audits of one site cover common time: `overlappingParts` names them beforehand.
 */
export function fleetOf(audits: readonly Counts[], making: FleetMaking): Fleet {
  if (overlappingParts(audits).length > 0) throw new RangeError("Two audits of one site cover the same time.");
  // 1. The audits in their order, and their signals and bays with all periods added up.
  const parts = distinctParts(audits);
  const confidence = parts.reduce((most, { counts }) => Math.max(most, counts.site.confidence), 0.5);
  const counts = parts.map((part) => part.counts);
  const signals = fleetSignals(counts);
  const bays = fleetBays(counts, signals);
  const pairs = fleetPairs(counts, signals);

  // 2. Each among its fellows.
  const measured = measuredSignals(signals);
  const ofPairs = measuredPairs(pairs, signals);
  const findings = {
    bays: bayFindings(bays, signals, pairs, measured, ofPairs, confidence),
    pairs: pairFindings(pairs, ofPairs, signals, confidence),
    signals: signalFindings(signals, measured, confidence),
    models: makeFindings(signals, measured, false, confidence),
    firmwares: makeFindings(signals, measured, true, confidence),
  };

  // 3. In one object.
  return {
    schema: FLEET_SCHEMA,
    made: { at: making.madeAt, by: making.madeBy },
    confidence,
    parts: parts.map(({ counts: { site, period, rules }, digest }) => ({
      site: site.name,
      timeZone: site.timeZone,
      period: { from: period.from, to: period.to, days: period.days, label: period.label },
      digest,
      rules: rules.map(({ name, act, verdict }) => ({ name, act, verdict })),
    })),
    leftOut: making.leftOut,
    sendFirst: sendFirst(findings.bays, findings.signals, findings.pairs),
    ...findings,
    notes: notesOf(counts, confidence),
  };
}

function bayFindings(bays: readonly FleetBay[], signals: readonly FleetSignal[], pairs: readonly FleetPair[], measured: Measured, ofPairs: readonly Member[], confidence: number): Fleet["bays"] {
  const own = bays.map((bay) => bay.signals);
  const apart = groupBy(pairs, ({ site, subject }) => JSON.stringify([site, subject]));
  const { faults, silences } = together(measured, own);
  const withPairs = faults.map((member, i) => (apart.get(JSON.stringify([bays[i]!.site, bays[i]!.bay])) ?? []).reduce((sum, pair) => ({ count: sum.count + ofPairs[pair]!.count, exposure: sum.exposure + ofPairs[pair]!.exposure }), member));
  const standings = standFamily({ faults: withPairs, silences }, [{ within: bays.map((_, i) => i), units: bays.map((_, unit) => ({ unit, of: [unit] })) }], bays.length, confidence);
  return bays.map(({ site, bay, vehicle, arrivals, departures }, i) => {
    const members = own[i]!.map((index) => signals[index]!);
    return { site, bay, vehicle, arrivals, departures, signals: [...new Set(members.map((one) => one.signal))], ...useOf(members), ...standings[i]! };
  });
}

function signalFindings(signals: readonly FleetSignal[], measured: Measured, confidence: number): Fleet["signals"] {
  const fellowships = [...groupBy(signals, (one) => one.kind).values()].map((within) => ({ within, units: within.map((index) => ({ unit: index, of: [index] })) }));
  const standings = standFamily(measured, fellowships, signals.length, confidence);
  return signals.map((one, i) => {
    const { site, signal, subject, subjectClass, kind, model, firmware } = one;
    return { site, signal, subject, subjectClass, kind, model, firmware, ...useOf([one]), ...standings[i]! };
  });
}

/** Models among the signals of their kind, or firmwares among the signals of their model. Signals that name none are fellows all the same. */
function makeFindings(signals: readonly FleetSignal[], measured: Measured, firmware: boolean, confidence: number): FleetMakeFinding[] {
  const groups = [...groupBy(signals, (one) => (one.model === null || (firmware && one.firmware === null) ? null : JSON.stringify([one.kind, one.model, firmware ? one.firmware : null])))]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, of], unit) => ({ unit, of, first: signals[of[0]!]! }));
  const fellowsOf = (one: FleetSignal): string | null => (firmware ? (one.model === null ? null : JSON.stringify([one.kind, one.model])) : one.kind);
  const fellowships = [...groupBy(signals, fellowsOf)].map(([key, within]) => ({ within, units: groups.filter(({ first }) => fellowsOf(first) === key) }));
  const standings = standFamily(measured, fellowships, groups.length, confidence);
  return groups.map(({ of, first }, i) => {
    const members = of.map((index) => signals[index]!);
    return { kind: first.kind, model: first.model!, firmware: firmware ? first.firmware : null, signals: of.length, sites: new Set(members.map((one) => one.site)).size, ...useOf(members), ...standings[i]! };
  });
}

function useOf(members: readonly FleetSignal[]): Pick<FleetMakeFinding, "days" | "knownShare" | "turns" | "missedTurns" | "phantoms" | "judgedDays"> {
  const total = (read: (one: FleetSignal) => number): number => members.reduce((sum, one) => sum + read(one), 0);
  const days = total((one) => one.days);
  return {
    days,
    knownShare: days === 0 ? 0 : Math.min(1, total((one) => one.knownDays) / days),
    turns: total((one) => one.turns),
    missedTurns: total((one) => one.missedTurns),
    phantoms: total((one) => one.phantoms),
    judgedDays: total((one) => one.judgedDays),
  };
}

function notesOf(counts: readonly Counts[], confidence: number): string[] {
  const labels = new Set(counts.map((one) => one.period.label));
  const old = counts.filter((one) => one.signals.some(({ disagreements }) => disagreements === undefined)).length;
  const confidences = new Set(counts.map((one) => one.site.confidence));
  return [
    ...(old > 0 ? [`${old === 1 ? "One audit is" : `${old} audits are`} of an older version, which charged both of two signals that differ; audit ${old === 1 ? "it" : "them"} again to know better.`] : []),
    ...(labels.size > 1 ? [`The audits cover ${labels.size} different periods; counts are set against each signal's own days and turns.`] : []),
    ...(confidences.size > 1 ? [`The sites ask for different confidences; the fleet is compared at the highest, ${confidence}.`] : []),
  ];
}
