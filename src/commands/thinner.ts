/** Takes the pieces of a file one by one and keeps as many as a bound allows. */
export interface Thinner<Piece> {
  /** `size` is what the piece counts for against the bound. */
  readonly take: (piece: Piece, size: number) => void;
  /** Call once. `last` is a piece more, kept whatever its size. Pieces that followed one another in the file are one run; `whole` says that all were kept. */
  readonly finish: (last?: Piece) => { readonly runs: readonly (readonly Piece[])[]; readonly whole: boolean };
}

interface Placed<Piece> {
  readonly at: number;
  readonly piece: Piece;
  readonly size: number;
}

/**
 * Keeps the first and the last two pieces, and of those between every `stride`-th, where the stride doubles whenever more
 * is kept than `bound`: how many there are is not known before the last. Two at the end, as the last alone may hold less than a row.
 */
export function makeThinner<Piece>(bound: number): Thinner<Piece> {
  let kept: Placed<Piece>[] = [];
  let [keptSize, stride, at] = [0, 1, 0];
  let tail: Placed<Piece>[] = [];
  const follow = (piece: Piece, size: number): Placed<Piece> => {
    const placed = { at, piece, size };
    tail = [...tail.slice(-1), placed];
    at++;
    return placed;
  };
  return {
    take(piece, size) {
      const placed = follow(piece, size);
      if (placed.at % stride === 0) {
        kept.push(placed);
        keptSize += size;
      }
      while (keptSize > bound && kept.length > 2) {
        stride *= 2;
        kept = kept.filter((one) => one.at % stride === 0);
        keptSize = kept.reduce((sum, one) => sum + one.size, 0);
      }
    },
    finish(last) {
      if (last !== undefined) follow(last, 0);
      const all = [...kept, ...tail.filter((one) => !kept.includes(one))].sort((a, b) => a.at - b.at);
      const runs: Piece[][] = [];
      all.forEach((one, i) => {
        if (i > 0 && all[i - 1]!.at === one.at - 1) runs.at(-1)!.push(one.piece);
        else runs.push([one.piece]);
      });
      return { runs, whole: stride === 1 };
    },
  };
}
