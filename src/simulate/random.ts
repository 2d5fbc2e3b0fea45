/** A stream of random numbers in [0, 1). Each has its own seed and name, so that none depends on another. */
export type Random = () => number;

/**
 * The stream that belongs to `names` under `seed`: the same for the same seed and names, on every machine.
 * The generator is sfc32 (a 128-bit state, small and fast; Doty-Humphrey's "small fast counting" family),
 * seeded by a 4 × 32-bit hash of the text; the first 16 draws are thrown away so that similar names do not start alike.
 * Not for secrets.
 */
export function randomStream(seed: number, ...names: readonly string[]): Random {
  let [a, b, c, d] = hashText(JSON.stringify([seed, ...names]));
  const draw = (): number => {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return (t >>> 0) / 4294967296;
  };
  for (let i = 0; i < 16; i += 1) draw();
  return draw;
}

/** Four 32-bit words from a text: four multiplicative hashes that differ in start and multiplier, then mixed. */
function hashText(text: string): [number, number, number, number] {
  const a = hashWord(text, 1779033703, 597399067);
  const b = hashWord(text, 3144134277, 2869860233);
  const c = hashWord(text, 1013904242, 951274213);
  const d = hashWord(text, 2773480762, 2716044179);
  const sum = a ^ b ^ c ^ d;
  return [a ^ sum, b ^ sum, c ^ sum, d ^ sum];
}

function hashWord(text: string, start: number, multiplier: number): number {
  let hash = start;
  for (let i = 0; i < text.length; i += 1) {
    const word = Math.imul(hash ^ text.charCodeAt(i), multiplier);
    hash = word ^ (word >>> 15);
  }
  return hash;
}

/** True with probability `p`. Always takes one draw, so that the draws after it do not shift when `p` changes. */
export function happens(random: Random, p: number): boolean {
  return random() < p;
}

/** Evenly between `low` and `high`. */
export function uniform(random: Random, low: number, high: number): number {
  return low + (high - low) * random();
}

/** A standard normal value (Box–Muller, one of the pair; always two draws). */
export function normal(random: Random): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return radius * Math.cos(2 * Math.PI * random());
}

/** Exponential with the given mean. */
export function exponential(random: Random, mean: number): number {
  return -mean * Math.log(1 - random());
}

/** One of the values, each as likely as the next. @throws RangeError for an empty list. */
export function pick<T>(random: Random, values: readonly T[]): T {
  const value = values[Math.floor(random() * values.length)];
  if (value === undefined) throw new RangeError("Nothing to pick from.");
  return value;
}

/** The instants of a Poisson process on `[from, to)` with `perMs` events a millisecond, in order. */
export function poissonInstants(random: Random, from: number, to: number, perMs: number): number[] {
  const instants: number[] = [];
  if (perMs <= 0) return instants;
  for (let at = from + exponential(random, 1 / perMs); at < to; at += exponential(random, 1 / perMs)) instants.push(at);
  return instants;
}
