/**
 * What a draw without replacement tells about a finite number of things, at every look: whoever draws may stop at any time. The
 * evidence against K bad ones among all is the mixture of the chances of the draw over all K, divided by its chance at K: on average 1
 * where K is true, so it rarely ever exceeds 1/α (Ville 1939; for such draws: Waudby-Smith & Ramdas 2020, Confidence sequences for
 * sampling without replacement; texts not seen). The mixture is fixed here, before anything is drawn.
 */
import { range } from "d3-array";
import { logSum } from "./log-sum.js";
import { requireConfidence, requireCount } from "./requirements.js";

/** Things of which some were drawn at random, without putting them back. */
export interface Drawn {
  readonly all: number;
  readonly drawn: number;
  /** Of those drawn. */
  readonly bad: number;
}

/**
 * By K from 0 to `all`: ln of the evidence against K bad ones among all. Infinity where the draw rules K out. 0 everywhere while nothing
 * was drawn.
 * @throws RangeError when a number is no count, or more are bad than drawn, or more are drawn than there are.
 */
export function drawnEvidence({ all, drawn, bad }: Drawn): number[] {
  requireCount(all, "The number of things");
  requireCount(drawn, "The number drawn");
  requireCount(bad, "The number of bad ones");
  if (bad > drawn || drawn > all) throw new RangeError(`${bad} of ${drawn} drawn from ${all} cannot be.`);
  if (drawn === 0) return range(all + 1).map(() => 0);
  const logs = logFactorials(all);
  const choose = (n: number, k: number): number => (k < 0 || k > n ? -Infinity : at(logs, n) - at(logs, k) - at(logs, n - k));
  const chances = range(all + 1).map((many) => choose(many, bad) + choose(all - many, drawn - bad) - choose(all, drawn));
  const mixture = logSum(chances.map((chance, many) => logWeight(many, all) + chance));
  return chances.map((chance) => mixture - chance);
}

/**
 * The most bad ones among all that the draw still allows, at every look.
 * @throws RangeError as {@link drawnEvidence}, and when the confidence is not between 0 and 1.
 */
export function mostBad(drawn: Drawn, confidence: number): number {
  requireConfidence(confidence);
  const bar = -Math.log(1 - confidence);
  return drawnEvidence(drawn).findLastIndex((evidence) => evidence < bar);
}

/**
 * The least evidence against K bad ones in two draws of different things together, by K: as it would be at the split of K that both allow
 * best.
 */
export function together(first: readonly number[], second: readonly number[]): number[] {
  const sums = new Array<number>(first.length + second.length - 1).fill(Infinity);
  first.forEach((one, i) => {
    second.forEach((other, j) => {
      sums[i + j] = Math.min(sums[i + j] ?? Infinity, one + other);
    });
  });
  return sums;
}

/** Few bad ones are likelier than many: 1 / ((K + 1)(K + 2)), which adds up to 1 − 1 / (all + 2). Our own choice. */
function logWeight(many: number, all: number): number {
  return -Math.log((many + 1) * (many + 2)) - Math.log1p(-1 / (all + 2));
}

function logFactorials(most: number): number[] {
  const logs = [0];
  for (let n = 1; n <= most; n += 1) logs.push(at(logs, n - 1) + Math.log(n));
  return logs;
}

function at(logs: readonly number[], n: number): number {
  return logs[n] ?? -Infinity;
}
