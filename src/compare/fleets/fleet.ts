/* eslint-disable @typescript-eslint/no-non-null-assertion -- standings are in the order of what was compared; a make has at least one signal, and its first names the model */
import { permute, rollup, sum } from "d3-array";
import type { Counts } from "../../result/counts.js";
import { FLEET_SCHEMA, type Fleet, type FleetMakeFinding } from "../../result/fleet.js";
import { distinctAudits, overlappingAudits } from "./audits.js";
import { eachAmong, standFamily, type Counted, type Measured } from "./compare.js";
import { fleetPairs, measuredPairs, pairFindings, type FleetPair } from "./pairs.js";
import { sendFirst } from "./send-first.js";
import { fleetBays, fleetSignals, measuredSignals, placeKey, together, type FleetBay, type FleetSignal } from "./units.js";

/** What a fleet result says of its own making. */
export interface FleetMaking {
  readonly madeAt: number;
  readonly madeBy: string;
  readonly leftOut: readonly { readonly what: string; readonly why: string }[];
}

/**
 * Compares the finished audits of many sites and months. A pure function of the set of audits: their order, and the
 * runs and machines they come from, make no difference. An audit given twice (only its making differs) counts once.
 *
 * Families of tests, each adjusted by itself (Benjamini & Hochberg 1995): all bays, all signals, all pairs of signals,
 * all models, all firmwares; in each, faults and silences together. Where two signals differ and nobody can tell which
 * is wrong, their pair has the fault, not they. Signals are compared with signals of the same kind, a model with the
 * other signals of its kind, a firmware with the other signals of its model. A bay's exposure is the sum of its
 * signals' and pairs', each by the rate of its kind.
 * @throws RangeError when two audits of one site cover common time: `overlappingAudits` names them beforehand.
 */
export function fleetOf(audits: readonly Counts[], making: FleetMaking): Fleet {
  if (overlappingAudits(audits).length > 0) throw new RangeError("Two audits of one site cover the same time.");
  // 1. The audits in their order, and their signals, bays and pairs with all periods added up.
  const distinct = distinctAudits(audits);
  const confidence = distinct.reduce((most, { counts }) => Math.max(most, counts.site.confidence), 0.5);
  const counts = distinct.map((audit) => audit.counts);
  const signals = fleetSignals(counts);
  const bays = fleetBays(counts, signals);
  const pairs = fleetPairs(counts, signals);

  // 2. Each among its fellows.
  const measured = measuredSignals(signals);
  const ofPairs = measuredPairs(pairs);
  const findings = {
    bays: bayFindings(bays, signals, pairs, measured, ofPairs, confidence),
    pairs: pairFindings(pairs, ofPairs, signals, confidence),
    signals: signalFindings(signals, measured, confidence),
    models: makeFindings(signals, measured, "model", confidence),
    firmwares: makeFindings(signals, measured, "firmware", confidence),
  };

  // 3. In one object.
  return {
    schema: FLEET_SCHEMA,
    made: { at: making.madeAt, by: making.madeBy },
    confidence,
    parts: distinct.map(({ counts: { site, period, rules }, digest }) => ({
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
  const standings = standFamily(
    { faults, silences },
    eachAmong(bays, () => "bay"),
    bays.length,
    confidence,
  );
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

function signalFindings(signals: readonly FleetSignal[], measured: Measured, confidence: number): Fleet["signals"] {
  const standings = standFamily(
    measured,
    eachAmong(signals, (one) => one.kind),
    signals.length,
    confidence,
  );
  return signals.map((one, i) => {
    const { site, signal, subject, subjectClass, kind, model, firmware } = one;
    return { site, signal, subject, subjectClass, kind, model, firmware, ...useOf([one]), ...standings[i]! };
  });
}

/**
 * Models among the signals of their kind, or firmwares among the signals of their model. Signals that name none are
 * fellows all the same.
 */
function makeFindings(
  signals: readonly FleetSignal[],
  measured: Measured,
  of: "model" | "firmware",
  confidence: number,
): FleetMakeFinding[] {
  const makeOf = ({ kind, model, firmware }: FleetSignal): string | null =>
    model === null || (of === "firmware" && firmware === null) ? null : JSON.stringify([kind, model, of === "firmware" ? firmware : null]);
  const fellowsOf = ({ kind, model }: FleetSignal): string | null =>
    of === "model" ? kind : model === null ? null : JSON.stringify([kind, model]);
  const makes = [...indicesBy(signals, makeOf)]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([, indices]) => ({ indices, first: signals[indices[0]!]! }));
  const fellowships = [...indicesBy(signals, fellowsOf)].map(([key, within]) => ({
    within,
    groups: makes.flatMap(({ indices, first }, place) => (fellowsOf(first) === key ? [{ place, of: indices }] : [])),
  }));
  const standings = standFamily(measured, fellowships, makes.length, confidence);
  return makes.map(({ indices, first }, i) => {
    const own = permute(signals, indices);
    return {
      kind: first.kind,
      model: first.model!,
      firmware: of === "firmware" ? first.firmware : null,
      signals: own.length,
      sites: new Set(own.map((one) => one.site)).size,
      ...useOf(own),
      ...standings[i]!,
    };
  });
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
): Pick<FleetMakeFinding, "days" | "knownShare" | "turns" | "missedTurns" | "phantoms" | "judgedDays"> {
  const days = sum(signals, (one) => one.days);
  return {
    days,
    knownShare: days === 0 ? 0 : Math.min(1, sum(signals, (one) => one.knownDays) / days),
    turns: sum(signals, (one) => one.turns),
    missedTurns: sum(signals, (one) => one.missedTurns),
    phantoms: sum(signals, (one) => one.phantoms),
    judgedDays: sum(signals, (one) => one.judgedDays),
  };
}

function notesOf(counts: readonly Counts[], confidence: number): string[] {
  const labels = new Set(counts.map((one) => one.period.label));
  const old = counts.filter((one) => one.signals.some(({ disagreements }) => disagreements === undefined)).length;
  const confidences = new Set(counts.map((one) => one.site.confidence));
  return [
    ...(old > 0
      ? [
          `${old === 1 ? "One audit is" : `${old} audits are`} of an older version, which blamed both of two sensors that differ; audit ${old === 1 ? "it" : "them"} again for a better answer.`,
        ]
      : []),
    ...(labels.size > 1
      ? [`The audits cover ${labels.size} different periods; each signal's counts are compared per day and per change of its own.`]
      : []),
    ...(confidences.size > 1 ? [`The sites ask for different confidences; the fleet is compared at the highest, ${confidence}.`] : []),
  ];
}
