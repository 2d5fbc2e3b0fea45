/* eslint-disable @typescript-eslint/no-non-null-assertion -- leaves are numbered, and every array has a place for each of them */
import { contradict, type ClaimLeaf, type ClaimTree } from "../rule/claims.js";
import type { PreparedRule } from "../rule/prepare.js";
import type { JointHistory } from "./joint-history.js";
import { lookUp } from "../../ground/look-up.js";

/** How far a condition was from being true, in signals that would have had to read (or have read) differently. */
export interface Margin {
  /**
   * False: a signal stands in several places, so the margin may truly be larger than given, never smaller. A margin of
   * 0 or 1 is right in any case.
   */
  readonly exact: boolean;
  /**
   * For each pattern of the joint history: 0 where the condition is true; Infinity where no readings could make it so.
   */
  readonly ofPattern: Float64Array;
  /**
   * For each pattern with a margin of 1: the signals that alone, by reading differently, would make it true; sorted.
   */
  readonly aloneInPattern: readonly (readonly string[])[];
}

/**
 * With more ways than this in which signals named in several places could lie, a bound is used instead of trying each.
 */
const MOST_READINGS = 64;

/**
 * The margin of a condition in every situation of its history. A leaf that holds costs nothing; one that does not
 * (unknown does not hold) costs its signal; all = the sum of the operands, any = the cheapest, at least k = the sum of
 * the k cheapest. That is exact where each signal stands once. A signal in several places pays once for all of them:
 * every way it could lie without contradicting itself is tried; where those are too many, each of its m places costs
 * 1/m, a lower bound. The min/max semantics is that of robustness (Fainekos & Pappas 2009), counted in signals instead
 * of in units of distance.
 */
export function marginOf({ claims, leaves }: Pick<PreparedRule, "claims" | "leaves">, { patterns }: Pick<JointHistory, "patterns">): Margin {
  const measure = marginMeasure(claims, leaves);
  const measured = patterns.map(measure.of);
  return { exact: measure.exact, ofPattern: Float64Array.from(measured, ([margin]) => margin), aloneInPattern: measured.map(([, alone]) => alone) };
}

/** One way in which the signals in several places read: what each leaf costs where it holds and where it does not. */
interface Reading {
  /** Signals named in several places that lie in this reading. */
  readonly lying: number;
  readonly whereHeld: readonly number[];
  readonly whereNot: readonly number[];
}

interface MarginMeasure {
  readonly exact: boolean;
  readonly of: (pattern: Uint8Array) => readonly [margin: number, alone: readonly string[]];
}

function marginMeasure(tree: ClaimTree, leaves: readonly ClaimLeaf[]): MarginMeasure {
  const places = placesOf(leaves);
  const lies = new Map([...places].map(([signal, at]) => [signal, consistentLies(leaves, at)]));
  const cost = treeCost(tree);
  const tried = allReadings(leaves, places, lies);
  const readings = tried ?? [boundReading(leaves, places)];
  const costIn = (pattern: Uint8Array, reading: Reading): number => reading.lying + cost((i) => (pattern[i] === 1 ? reading.whereHeld : reading.whereNot)[i]!);
  const suffices = (pattern: Uint8Array, signal: string): boolean => {
    const own = new Set(places.get(signal));
    return lookUp(lies, signal).some((lie) => cost((i) => (lie.has(i) || (!own.has(i) && pattern[i] === 1) ? 0 : Infinity)) === 0);
  };
  return {
    exact: tried !== null && leaves.every((leaf) => isNow(leaf) || lookUp(places, leaf.claim.signal).length === 1),
    of: (pattern) => {
      // Fractions of a signal's price add up to a whole number only up to rounding errors.
      const margin = Math.max(0, Math.ceil(Math.min(...readings.map((reading) => costIn(pattern, reading))) - 1e-9));
      if (margin !== 1) return [margin, []];
      const alone = [...places.keys()].filter((signal) => suffices(pattern, signal)).sort();
      // Only the bound can say 1 although no single signal would do: then it takes at least two.
      return alone.length === 0 ? [2, []] : [1, alone];
    },
  };
}

function placesOf(leaves: readonly ClaimLeaf[]): Map<string, number[]> {
  const places = new Map<string, number[]>();
  leaves.forEach((leaf, i) => places.set(leaf.claim.signal, [...(places.get(leaf.claim.signal) ?? []), i]));
  return places;
}

/** Every way in which the signals in several places read truly or lie; null when there are too many. */
function allReadings(leaves: readonly ClaimLeaf[], places: ReadonlyMap<string, readonly number[]>, lies: ReadonlyMap<string, readonly ReadonlySet<number>[]>): Reading[] | null {
  let readings: Reading[] = [{ lying: 0, whereHeld: leaves.map(() => 0), whereNot: leaves.map(() => 1) }];
  for (const [signal, at] of places) {
    if (at.length === 1) continue;
    const ways = lookUp(lies, signal);
    if (readings.length * (ways.length + 1) > MOST_READINGS) return null;
    const own = new Set(at);
    readings = readings.flatMap((one) => {
      const withOwn = (costs: readonly number[], price: (i: number) => number): number[] => costs.map((given, i) => (own.has(i) ? price(i) : given));
      const truly = { ...one, whereNot: withOwn(one.whereNot, () => Infinity) };
      // What a lie does not claim does not hold, even if it would without the lie.
      const lying = ways.map((lie) => {
        const said = (i: number): number => (lie.has(i) ? 0 : Infinity);
        return { lying: one.lying + 1, whereHeld: withOwn(one.whereHeld, said), whereNot: withOwn(one.whereNot, said) };
      });
      return [truly, ...lying];
    });
  }
  return readings;
}

/**
 * Never more than the true price: a signal's places together cost at most one signal, however many of them are needed.
 */
function boundReading(leaves: readonly ClaimLeaf[], places: ReadonlyMap<string, readonly number[]>): Reading {
  return { lying: 0, whereHeld: leaves.map(() => 0), whereNot: leaves.map((leaf) => 1 / lookUp(places, leaf.claim.signal).length) };
}

/**
 * The largest sets of a signal's places that it could satisfy at once without contradicting itself. More than a dozen
 * disputed places are taken as all possible at once: the margin may then be too small, never too large.
 */
function consistentLies(leaves: readonly ClaimLeaf[], at: readonly number[]): ReadonlySet<number>[] {
  const clash = (i: number, j: number): boolean => contradict(leaves[i]!.claim, leaves[j]!.claim);
  const disputed = at.filter((i) => at.some((j) => clash(i, j)));
  const undisputed = at.filter((i) => !disputed.includes(i));
  if (disputed.length === 0 || disputed.length > 12) return [new Set(at)];
  const sets: number[][] = [];
  for (let bits = 2 ** disputed.length - 1; bits > 0; bits -= 1) {
    const chosen = disputed.filter((_, i) => (bits >> i) & 1);
    if (chosen.some((i) => chosen.some((j) => clash(i, j)))) continue;
    if (disputed.some((i) => !chosen.includes(i) && !chosen.some((j) => clash(i, j)))) continue;
    sets.push(chosen);
  }
  return sets.map((chosen) => new Set([...chosen, ...undisputed]));
}

function isNow({ claim }: ClaimLeaf): boolean {
  return claim.form === "throughout" && claim.spanMs === 0;
}

/** The cost of a tree from the cost of its leaves, by their place. */
function treeCost(tree: ClaimTree): (costOf: (leaf: number) => number) => number {
  type Node = number | { readonly count: number; readonly of: readonly Node[] };
  let next = 0;
  const numbered = (part: ClaimTree): Node => (part.op === "claim" ? next++ : { count: part.count, of: part.of.map(numbered) });
  const root = numbered(tree);
  const cost = (node: Node, costOf: (leaf: number) => number): number => {
    if (typeof node === "number") return costOf(node);
    if (node.count > node.of.length) return Infinity;
    const costs = node.of.map((one) => cost(one, costOf));
    if (node.count === 1) return Math.min(...costs);
    if (node.count < costs.length) costs.sort((a, b) => a - b);
    let sum = 0;
    for (let i = 0; i < node.count; i += 1) sum += costs[i]!;
    return sum;
  };
  return (costOf) => cost(root, costOf);
}
