import { prevalencesFrom, sharesFrom, type LatentClassItem, type Shares } from "./latent-class-shares.js";

/** When to stop, and what the rates lean on. */
export interface LatentClassOptions {
  readonly classes: number;
  readonly populations?: number;
  readonly maximumIterations: number;
  /** Converged when no item's class probability moves by more than this from one iteration to the next. */
  readonly tolerance: number;
  /** Added to every observer's count of each true class × said class (0 = maximum likelihood). */
  readonly pseudoCounts?: (observer: number, trueClass: number, saidClass: number) => number;
}

/** What was learnt. */
export interface LatentClassFit {
  /** `prevalence[population][class]`; each adds up to 1. */
  readonly prevalence: readonly (readonly number[])[];
  /** `said[observer][true class][said class]`; each row adds up to 1. */
  readonly said: Shares;
  /** `membership[item][class]`: the probability that the item truly is of the class. */
  readonly membership: readonly (readonly number[])[];
  /** Over all readings, multiplicities counted, without multinomial coefficients. */
  readonly logLikelihood: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/**
 * Observers who err, and no one who knows: how often each observer calls class t class c, how common each class is, and of
 * which class each item probably is, by expectation-maximisation under the assumption that observers err independently
 * given the truth.
 * Starts from the observers' averaged opinion of each item, which makes the run deterministic and puts it on the side where
 * observers are more often right than wrong; other starts may end in another local maximum.
 * An item nobody judged starts (and without prevalence, stays) equally likely of every class.
 * Source: Dawid & Skene (1979), Applied Statistics 28: 20-28, start by their equation 3.1. With several populations that
 * share the observers' rates it is the model of Hui & Walter (1980), Biometrics 36: 167-171.
 * @throws RangeError when there are no items.
 */
export function fitLatentClasses(items: readonly LatentClassItem[], options: LatentClassOptions): LatentClassFit {
  const observers = items[0]?.counts.length;
  if (observers === undefined) throw new RangeError("Latent classes need at least one item.");
  const { classes, maximumIterations, tolerance, populations = 1, pseudoCounts = () => 0 } = options;
  let membership = items.map((item) => averagedOpinion(item, classes));
  for (let iteration = 1; ; iteration += 1) {
    const prevalence = prevalencesFrom(items, membership, populations, classes);
    const said = sharesFrom(items, membership, observers, classes, pseudoCounts);
    const next = judgeItems(items, prevalence, said, classes);
    const moved = largestMove(membership, next.membership);
    membership = next.membership;
    const converged = moved <= tolerance;
    if (converged || iteration >= maximumIterations) return { prevalence, said, membership, logLikelihood: next.logLikelihood, iterations: iteration, converged };
  }
}

/** Equation 3.1: each class's share of everything said of the item. */
function averagedOpinion(item: LatentClassItem, classes: number): number[] {
  const totals = Array.from({ length: classes }, (_, c) => item.counts.reduce((sum, counts) => sum + counts[c]!, 0));
  const all = totals.reduce((sum, one) => sum + one, 0);
  return totals.map((one) => (all === 0 ? 1 / classes : one / all));
}

/** Bayes' rule for each item (their equation 2.5), worked in logarithms. */
function judgeItems(items: readonly LatentClassItem[], prevalence: readonly (readonly number[])[], said: Shares, classes: number): { membership: number[][]; logLikelihood: number } {
  let logLikelihood = 0;
  const membership = items.map((item) => {
    const logs = Array.from({ length: classes }, (_, t) => Math.log(prevalence[item.population ?? 0]![t]!) + logChance(item, said, t));
    const largest = Math.max(...logs);
    const parts = logs.map((log) => Math.exp(log - largest));
    const total = parts.reduce((sum, part) => sum + part, 0);
    logLikelihood += (item.multiplicity ?? 1) * (largest + Math.log(total));
    return parts.map((part) => part / total);
  });
  return { membership, logLikelihood };
}

function logChance(item: LatentClassItem, said: Shares, trueClass: number): number {
  let log = 0;
  item.counts.forEach((counts, observer) =>
    counts.forEach((count, c) => {
      // What was never said does not bear on it, be its share 0 or not.
      if (count > 0) log += count * Math.log(said[observer]![trueClass]![c]!);
    }),
  );
  return log;
}

function largestMove(before: readonly (readonly number[])[], after: readonly (readonly number[])[]): number {
  let largest = 0;
  before.forEach((row, i) => row.forEach((one, c) => (largest = Math.max(largest, Math.abs(one - after[i]![c]!)))));
  return largest;
}
