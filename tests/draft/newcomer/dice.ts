/** Numbers that look random and are the same in every run. */
export interface Dice {
  /** A whole number from 0 to below `count`. */
  readonly below: (count: number) => number;
  /** From 0 to below 1. */
  readonly share: () => number;
}

/** Tommy Ettinger's mulberry32, a generator in the public domain (written down from memory). */
export function mulberry32(seed: number): Dice {
  let state = seed >>> 0;
  const share = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  return { share, below: (count) => Math.floor(share() * count) };
}
