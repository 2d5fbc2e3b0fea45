import type { Turn } from "../timeline/timeline.js";

/**
 * The most likely instant of a turn: the middle of the time in which it may have happened.
 * A turn seen without a gap (`earliest === at`) keeps its instant.
 */
export function likelyInstant(turn: Turn): number {
  return (turn.earliest + turn.at) / 2;
}

/** Who was matched with whom: an index into the other list, or −1. */
export interface TurnMatches {
  readonly ofReference: Int32Array;
  readonly ofSignal: Int32Array;
}

/**
 * Matches instants of two rising lists one to one, in order (no two pairs cross), none further apart than `windowMs`.
 * Among all such matchings the one with the most pairs is taken, and among those the one with the least total distance:
 * a turn that was taken back and repeated is matched at the repeat when that is nearer.
 *
 * Only reference instants whose windows overlap can compete, so each such cluster is solved by itself with the usual
 * table of partial solutions: rows × columns of the cluster, near linear for sparse turns.
 */
export function matchInstants(reference: readonly number[], signal: readonly number[], windowMs: number): TurnMatches {
  const matches: TurnMatches = { ofReference: new Int32Array(reference.length).fill(-1), ofSignal: new Int32Array(signal.length).fill(-1) };
  let firstRow = 0;
  let firstColumn = 0;
  while (firstRow < reference.length) {
    let endRow = firstRow + 1;
    while (endRow < reference.length && reference[endRow]! - reference[endRow - 1]! <= 2 * windowMs) endRow += 1;
    while (firstColumn < signal.length && signal[firstColumn]! < reference[firstRow]! - windowMs) firstColumn += 1;
    let endColumn = firstColumn;
    while (endColumn < signal.length && signal[endColumn]! <= reference[endRow - 1]! + windowMs) endColumn += 1;
    matchCluster(reference, signal, windowMs, { firstRow, endRow, firstColumn, endColumn }, matches);
    firstRow = endRow;
    firstColumn = endColumn;
  }
  return matches;
}

/** The part of the two lists that is solved at once: rows are reference instants, columns signal instants. */
interface Cluster {
  readonly firstRow: number;
  readonly endRow: number;
  readonly firstColumn: number;
  readonly endColumn: number;
}

const SKIP_ROW = 0;
const SKIP_COLUMN = 1;
const PAIR = 2;

/** Fills `matches` for one cluster: best[r][c] is the best matching of the rows from r on with the columns from c on. */
function matchCluster(reference: readonly number[], signal: readonly number[], windowMs: number, cluster: Cluster, matches: TurnMatches): void {
  const rows = cluster.endRow - cluster.firstRow;
  const columns = cluster.endColumn - cluster.firstColumn;
  const choices = new Uint8Array(rows * columns);
  // Two rows of the table are enough for the values; the choices are kept to walk back.
  let pairsBelow = new Int32Array(columns + 1);
  let distanceBelow = new Float64Array(columns + 1);
  for (let row = rows - 1; row >= 0; row -= 1) {
    const pairs = new Int32Array(columns + 1);
    const distance = new Float64Array(columns + 1);
    for (let column = columns - 1; column >= 0; column -= 1) {
      let choice = SKIP_ROW;
      let bestPairs = pairsBelow[column]!;
      let bestDistance = distanceBelow[column]!;
      const take = (candidate: number, candidatePairs: number, candidateDistance: number): void => {
        if (candidatePairs < bestPairs || (candidatePairs === bestPairs && candidateDistance >= bestDistance)) return;
        choice = candidate;
        bestPairs = candidatePairs;
        bestDistance = candidateDistance;
      };
      take(SKIP_COLUMN, pairs[column + 1]!, distance[column + 1]!);
      const apart = Math.abs(signal[cluster.firstColumn + column]! - reference[cluster.firstRow + row]!);
      if (apart <= windowMs) take(PAIR, pairsBelow[column + 1]! + 1, distanceBelow[column + 1]! + apart);
      choices[row * columns + column] = choice;
      pairs[column] = bestPairs;
      distance[column] = bestDistance;
    }
    pairsBelow = pairs;
    distanceBelow = distance;
  }
  let row = 0;
  let column = 0;
  while (row < rows && column < columns) {
    const choice = choices[row * columns + column]!;
    if (choice === PAIR) {
      matches.ofReference[cluster.firstRow + row] = cluster.firstColumn + column;
      matches.ofSignal[cluster.firstColumn + column] = cluster.firstRow + row;
    }
    if (choice !== SKIP_COLUMN) row += 1;
    if (choice !== SKIP_ROW) column += 1;
  }
}
