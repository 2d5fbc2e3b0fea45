/**
 * Wrong firings less than this apart are one occasion: one bad night is one piece of evidence, however often the door moved in it.
 * Our own choice: six hours, so that an evening and the next morning stay apart.
 */
export const OCCASION_MS = 6 * 3_600_000;

/** How many of the instants (in order) each occasion holds. */
export function occasionSizes(instants: readonly number[]): number[] {
  const sizes: number[] = [];
  let last = -Infinity;
  for (const at of instants) {
    if (at - last < OCCASION_MS) sizes[sizes.length - 1]! += 1;
    else sizes.push(1);
    last = at;
  }
  return sizes;
}

/** The lengths of the runs of failures, in order: a phone that is lost for two days fails several times in a row. */
export function failureRuns(failed: readonly boolean[]): number[] {
  const runs: number[] = [];
  failed.forEach((one, i) => {
    if (!one) return;
    if (i > 0 && failed[i - 1] === true) runs[runs.length - 1]! += 1;
    else runs.push(1);
  });
  return runs;
}
