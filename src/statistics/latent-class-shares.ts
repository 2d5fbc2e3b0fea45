/** One thing that was looked at. */
export interface LatentClassItem {
  /** `counts[o][c]`: how often observer o called it class c. Fractions are allowed (a voice that counts for part of one); all 0 abstains. */
  readonly counts: readonly (readonly number[])[];
  /** Which population it belongs to, from 0; each has prevalences of its own. 0 if not given. */
  readonly population?: number;
  /** How many alike this one stands for; 1 if not given. */
  readonly multiplicity?: number;
}

/** `said[observer][true class][said class]`. */
export type Shares = readonly (readonly (readonly number[])[])[];

/**
 * How common each class is in each population, given how probably each item is of it: Dawid & Skene (1979), equation 2.4.
 * A population without items has all classes equally common.
 */
export function prevalencesFrom(items: readonly LatentClassItem[], membership: readonly (readonly number[])[], populations: number, classes: number): number[][] {
  const totals = Array.from({ length: populations }, () => new Array<number>(classes).fill(0));
  items.forEach((item, i) => membership[i]!.forEach((one, c) => (totals[item.population ?? 0]![c]! += one * (item.multiplicity ?? 1))));
  return totals.map(normalised);
}

/** How often each observer calls each true class what, given how probably each item is of it: their equation 2.3, with pseudo-counts added. */
export function sharesFrom(
  items: readonly LatentClassItem[],
  membership: readonly (readonly number[])[],
  observers: number,
  classes: number,
  pseudoCounts: (observer: number, trueClass: number, saidClass: number) => number,
): number[][][] {
  const totals = Array.from({ length: observers }, (_, o) => Array.from({ length: classes }, (_, t) => Array.from({ length: classes }, (_, c) => pseudoCounts(o, t, c))));
  items.forEach((item, i) =>
    item.counts.forEach((counts, o) =>
      counts.forEach((count, c) => {
        if (count === 0) return;
        for (let t = 0; t < classes; t += 1) totals[o]![t]![c]! += membership[i]![t]! * count * (item.multiplicity ?? 1);
      }),
    ),
  );
  return totals.map((ofObserver) => ofObserver.map(normalised));
}

function normalised(totals: readonly number[]): number[] {
  const all = totals.reduce((sum, one) => sum + one, 0);
  return totals.map((one) => (all === 0 ? 1 / totals.length : one / all));
}
