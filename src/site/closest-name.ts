/* eslint-disable @typescript-eslint/no-non-null-assertion -- the rows of the edit distance are walked within their length */

/** Names this far apart or less, for each four characters, are taken for a slip of the keyboard (our own choice). */
const CHARACTERS_PER_SLIP = 4;

/** Longer names are not compared: nobody mistypes them, and the work grows with the square of the length. */
const LONGEST_COMPARED = 100;

/**
 * The known name that was probably meant, or null when none is close. Case is ignored; among equals the first wins.
 */
export function closestName(written: string, known: Iterable<string>): string | null {
  if (written.length > LONGEST_COMPARED) return null;
  const allowed = Math.max(1, Math.floor(written.length / CHARACTERS_PER_SLIP));
  let best: string | null = null;
  let bestDistance = allowed + 1;
  for (const name of known) {
    if (name === written || Math.abs(name.length - written.length) > allowed) continue;
    const distance = editDistance(written.toLowerCase(), name.toLowerCase());
    // A word that shares no letter (`m` for `s`) is not a slip.
    if (distance < bestDistance && distance < Math.max(written.length, name.length)) [best, bestDistance] = [name, distance];
  }
  return best;
}

/**
 * The fewest single-character insertions, deletions, replacements and swaps of neighbours that turn `a` into `b`
 * (optimal string alignment: no substring is edited twice).
 */
function editDistance(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let cost = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) cost = Math.min(cost, beforeLast[j - 2]! + 1);
      row.push(cost);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
