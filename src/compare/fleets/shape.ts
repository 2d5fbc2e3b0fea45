/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of shapes */
import type { Counted } from "./counted.js";

/**
 * Shapes of the gamma distribution of the units' own rates that are tried, from very unlike (0.1) to nearly alike
 * (100), in steps of a fifth. The largest stands for "within ten per cent of one another": units of the same make are
 * never taken to be more alike than that, however little the counts show of it. Our own choice.
 */
const shapes: readonly number[] = Array.from({ length: 39 }, (_, i) => Math.min(100, 0.1 * 1.2 ** i));

/** The likeliest shape of units' own rates around a common rate, every unit among them; the largest of several. */
export function likeliestShape(units: readonly Counted[], rate: number): number {
  const rising = new Map<number, Float64Array>();
  const summed = new Float64Array(shapes.length);
  for (const { count, exposure } of units) {
    let part = rising.get(count);
    if (part === undefined) rising.set(count, (part = risingPart(count)));
    addLikelihood(summed, part, count, exposure * rate);
  }
  let best = 0;
  for (let i = 1; i < summed.length; i += 1) if (summed[i]! >= summed[best]!) best = i;
  return shapes[best]!;
}

/**
 * The part of a count's log-likelihood that depends on the count and the shape alone, at every shape of {@link shapes}:
 * log Γ(shape + count) / Γ(shape).
 */
function risingPart(count: number): Float64Array {
  return Float64Array.from(shapes, (shape) => {
    let sum = 0;
    for (let j = 0; j < count; j += 1) sum += Math.log(shape + j);
    return sum;
  });
}

/**
 * Adds to `summed` the log-likelihood of a count at every shape, without the terms that are the same for every shape. The
 * count is Poisson, its rate gamma distributed around the expectation: a negative binomial count.
 */
function addLikelihood(summed: Float64Array, rising: Float64Array, count: number, expected: number): void {
  for (let i = 0; i < shapes.length; i += 1) {
    const shape = shapes[i]!;
    summed[i]! += rising[i]! + shape * Math.log(shape) - (shape + count) * Math.log(shape + expected);
  }
}
