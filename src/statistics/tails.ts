/** P(X ≥ `count`) for X binomial; `share` from 0 to 1. 1 when `count` is 0 or less, 0 when it is more than `trials`. */
export function binomialTail(count: number, trials: number, share: number): number {
  if (count <= 0) return 1;
  if (share >= 1) return count > trials ? 0 : 1;
  // Summed term by term: 1 minus the rest would round a small tail away.
  let sum = 0;
  for (let k = count; k <= trials; k += 1) sum += Math.exp(logChoose(trials, k) + k * Math.log(share) + (trials - k) * Math.log1p(-share));
  return Math.min(1, sum);
}

/** P(X ≥ `count`) for X Poisson with this mean. */
export function poissonTail(count: number, mean: number): number {
  if (count <= 0) return 1;
  let term = Math.exp(-mean);
  let below = 0;
  for (let k = 0; k < count; k += 1) {
    below += term;
    term *= mean / (k + 1);
  }
  if (mean >= count) return Math.max(0, 1 - below);
  // A small tail is summed by itself, term by falling term: 1 minus nearly 1 would round it away.
  let above = 0;
  for (let k = count; term > above * 1e-16; k += 1) {
    above += term;
    term *= mean / (k + 1);
  }
  return above;
}

/**
 * P(X + Y ≥ `count`). X is how many things both of two blind picks hold, one of `first` and one of `second` things
 * among `among` (hypergeometric). Y is independent of X and Poisson with mean `extra`.
 */
export function overlapTail(count: number, among: number, first: number, second: number, extra: number): number {
  let sum = 0;
  for (let both = Math.max(0, first + second - among); both <= Math.min(first, second); both += 1) {
    const share = Math.exp(logChoose(first, both) + logChoose(among - first, second - both) - logChoose(among, second));
    sum += share * poissonTail(count - both, extra);
  }
  return Math.min(1, sum);
}

function logChoose(all: number, some: number): number {
  let log = 0;
  for (let i = 1; i <= Math.min(some, all - some); i += 1) log += Math.log((all - i + 1) / i);
  return log;
}
