/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of shapes, or is of a unit */
import type { Counted } from "./compare.js";
import { addLikelihood, likeliestShape, risingPart, shapes } from "./spread.js";

/** Terms of the series in the change of the rate. */
const TERMS = 6;
/** A rate that changes by more than this share is not followed by the series. */
const FARTHEST = 0.3;
/** Sums of likelihoods are rounded by less than this share of what was added up. */
const ROUNDING = 1e-13;

/** What a unit, or many, add to the likelihood of every shape, and how that follows the rate. */
interface Summed {
  /** Log-likelihood at the rate begun with. */
  readonly likelihood: Float64Array;
  /** By power and shape: (shape + count) · share^power, where share = expected / (shape + expected). */
  readonly powers: readonly Float64Array[];
}

/**
 * Fits the shape to all units but a group, around the fellows' own rate. The likelihood of all at one rate is summed once; a group
 * is taken away from it, and the rate moved by the series of the logarithm: log(s + er′) = log(s + er) + log(1 + uδ) with
 * δ = r′/r − 1 and u = er / (s + er). What the series leaves out is bounded; where that or rounding could choose another shape, the fit
 * is made anew from every unit. So the result is that of `refittedShape`, at the cost of one fit for all groups.
 */
export function shapeFitter(units: readonly Counted[], rate: number, leftOut: ReadonlySet<number>): (group: readonly number[], fellowsRate: number) => number {
  const risingOf = remembered(risingPart);
  const all = nothing();
  units.forEach((one, index) => leftOut.has(index) || add(all, one, risingOf(one.count), rate, 1));
  return (group, fellowsRate) => {
    // Where nothing was counted every shape is as likely: units are taken for alike.
    if (fellowsRate === 0) return shapes.at(-1)!;
    const change = fellowsRate / rate - 1;
    const others = copyOf(all);
    for (const index of group) if (!leftOut.has(index)) add(others, units[index]!, risingOf(units[index]!.count), rate, -1);
    const shape = Math.abs(change) <= FARTHEST ? clearlyLikeliest(others, change) : null;
    return shape ?? refittedShape(units, fellowsRate, new Set([...leftOut, ...group]), risingOf);
  };
}

/** The likeliest shape around a rate, from every unit that is not left out. */
export function refittedShape(units: readonly Counted[], rate: number, leftOut: ReadonlySet<number>, risingOf = remembered(risingPart)): number {
  const summed = new Float64Array(shapes.length);
  units.forEach(({ count, exposure }, index) => leftOut.has(index) || addLikelihood(summed, risingOf(count), count, exposure * rate));
  return likeliestShape(summed);
}

/** The same for each count, worked out once: many units have the same. */
function remembered(of: (count: number) => Float64Array): (count: number) => Float64Array {
  const known = new Map<number, Float64Array>();
  return (count) => {
    let one = known.get(count);
    if (one === undefined) known.set(count, (one = of(count)));
    return one;
  };
}

function nothing(): Summed {
  return { likelihood: new Float64Array(shapes.length), powers: Array.from({ length: TERMS + 1 }, () => new Float64Array(shapes.length)) };
}

function copyOf({ likelihood, powers }: Summed): Summed {
  return { likelihood: likelihood.slice(), powers: powers.map((one) => one.slice()) };
}

function add({ likelihood, powers }: Summed, { count, exposure }: Counted, rising: Float64Array, rate: number, sign: 1 | -1): void {
  const expected = exposure * rate;
  addLikelihood(likelihood, rising, count, expected, sign);
  for (let i = 0; i < shapes.length; i += 1) {
    const share = expected / (shapes[i]! + expected);
    let term = sign * (shapes[i]! + count);
    for (let power = 0; power <= TERMS; power += 1) {
      powers[power]![i]! += term;
      term *= share;
    }
  }
}

/** The shape that is likeliest beyond what the series and rounding leave open; null where they do not tell. */
function clearlyLikeliest({ likelihood, powers }: Summed, change: number): number | null {
  const moved = likelihood.slice();
  let factor = -1;
  for (let power = 1; power <= TERMS; power += 1) {
    factor *= -change;
    const of = powers[power]!;
    for (let i = 0; i < moved.length; i += 1) moved[i]! -= (factor / power) * of[i]!;
  }
  let best = 0;
  for (let i = 1; i < moved.length; i += 1) if (moved[i]! > moved[best]!) best = i;
  const rest = Math.abs(change) ** (TERMS + 1) / (TERMS + 1) / (1 - Math.abs(change));
  const unsure = (i: number): number => powers[0]![i]! * (rest + ROUNDING * Math.log(2 + powers[0]![i]!));
  const least = unsure(best);
  for (let i = 0; i < moved.length; i += 1) if (i !== best && moved[best]! - moved[i]! <= unsure(i) + least) return null;
  return shapes[best]!;
}
