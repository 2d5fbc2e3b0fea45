import { adjustPValues } from "../../statistics/benjamini-hochberg.js";
import { compareGroups, type Member, type Standing } from "./compare.js";
import type { FleetStanding } from "../../result/fleet-schema.js";

/** What is compared: faults and silences of every member. */
export interface Measured {
  readonly faults: readonly Member[];
  readonly silences: readonly Member[];
}

/** Members that are fellows of one another (indices), and the units among them: each its number in the result and its members. */
export interface Fellows {
  readonly within: readonly number[];
  readonly units: readonly { readonly unit: number; readonly of: readonly number[] }[];
}

/** A unit's standing in both measures. */
export interface UnitStanding {
  readonly faults: FleetStanding;
  readonly silences: FleetStanding;
}

const measures = ["faults", "silences"] as const;

/**
 * Compares all units of one family, each among its fellows and in both measures; p-values are adjusted over all of them. A unit
 * stands out when its adjusted p-value is below 1 − confidence: of those that stand out, at most that share is expected to
 * do so by chance. Units that belong to no fellows are not compared. The result is in the order of the units' numbers.
 */
export function standFamily(measured: Measured, fellowships: readonly Fellows[], unitCount: number, confidence: number): UnitStanding[] {
  const raw = measures.map((measure) => {
    const standings = new Array<Standing | null>(unitCount).fill(null);
    for (const { within, units } of fellowships) {
      const place = new Map(within.map((index, i) => [index, i]));
      const compared = compareGroups(within.map((index) => measured[measure][index]!), units.map(({ of }) => of.map((index) => place.get(index)!)), confidence);
      units.forEach(({ unit }, i) => (standings[unit] = compared[i]!));
    }
    return standings;
  });
  const flat = raw.flat();
  const tested = flat.flatMap((one, i) => (one?.pValue == null ? [] : [{ i, pValue: one.pValue }]));
  const adjusted = new Map(adjustPValues(tested.map((one) => one.pValue)).map((value, i) => [tested[i]!.i, value]));
  const finished = flat.map((one, i): FleetStanding => {
    const adjustedPValue = adjusted.get(i) ?? null;
    return { ...(one ?? uncompared), adjustedPValue, standsOut: adjustedPValue !== null && adjustedPValue < 1 - confidence };
  });
  return Array.from({ length: unitCount }, (_, unit) => ({ faults: finished[unit]!, silences: finished[unitCount + unit]! }));
}

const uncompared: Standing = { count: 0, expected: null, controlLow: null, controlHigh: null, pooledRatio: null, pooledLow: null, pooledHigh: null, pValue: null };
