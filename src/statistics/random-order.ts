/* eslint-disable @typescript-eslint/no-non-null-assertion -- both places lie within the values */
/** Puts the values in a random order, in place. */
export function shuffle(values: Float64Array, random: () => number): void {
  for (let i = values.length - 1; i > 0; i -= 1) {
    const j = Math.floor(random() * (i + 1));
    [values[i], values[j]] = [values[j]!, values[i]!];
  }
}

/** A small generator (mulberry32) on [0, 1): good enough to shuffle a year of days. */
export function generator(seed: number): () => number {
  let state = (seed + 0x9e3779b9) | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}
