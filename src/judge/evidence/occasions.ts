/**
 * Wrong firings less than this apart are one occasion: one bad night is one piece of evidence, however often the door moved in it.
 * Our own choice: six hours, so that an evening and the next morning stay apart.
 */
export const OCCASION_MS = 6 * 3_600_000;

/** The instant at which each occasion begins. `instants` in order. */
export function occasionStarts(instants: readonly number[]): number[] {
  return instants.filter((at, i) => i === 0 || at - instants[i - 1]! >= OCCASION_MS);
}

/** How many of the instants (in order) each occasion holds. */
export function occasionSizes(instants: readonly number[]): number[] {
  const sizes: number[] = [];
  instants.forEach((at, i) => {
    if (i > 0 && at - instants[i - 1]! < OCCASION_MS) sizes[sizes.length - 1]! += 1;
    else sizes.push(1);
  });
  return sizes;
}

/** Where each run of failures begins: a place in the list. */
export function runStarts(failed: readonly boolean[]): number[] {
  return failed.flatMap((one, i) => (one && failed[i - 1] !== true ? [i] : []));
}

/** The lengths of the runs of failures, in order: a phone that is lost for two days fails several times in a row. */
export function failureRuns(failed: readonly boolean[]): number[] {
  return runStarts(failed).map((start) => {
    const end = failed.indexOf(false, start);
    return (end < 0 ? failed.length : end) - start;
  });
}
