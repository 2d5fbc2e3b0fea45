/** A stream of numbers in [0, 1): the same for the same name. */
export type Chance = () => number;

/** The public-domain generator sfc32, seeded by an FNV-1a hash of `name`: the study's own, so that it shares nothing with what it tests. */
export function chanceNamed(name: string): Chance {
  let hash = 0x811c9dc5;
  const word = (salt: number): number => {
    for (const letter of `${name}#${salt}`) hash = Math.imul(hash ^ letter.charCodeAt(0), 0x01000193);
    return hash >>> 0;
  };
  let [a, b, c, counter] = [word(1), word(2), word(3), 1];
  const next: Chance = () => {
    const sum = (a + b + counter) >>> 0;
    counter = (counter + 1) >>> 0;
    a = (b ^ (b >>> 9)) >>> 0;
    b = (c + (c << 3)) >>> 0;
    c = (((c << 21) | (c >>> 11)) + sum) >>> 0;
    return sum / 4_294_967_296;
  };
  // The first numbers of similar seeds are alike.
  for (let i = 0; i < 20; i += 1) next();
  return next;
}

/** A number between the two, each as likely. */
export function between(chance: Chance, low: number, high: number): number {
  return low + (high - low) * chance();
}

/** One of a list, which must not be empty. */
export function oneOf<T>(chance: Chance, list: readonly T[]): T {
  return list[Math.floor(chance() * list.length)]!;
}

/** The instants of a Poisson process in `[from, to)` with so many on average, in order. */
export function instantsEvenly(chance: Chance, from: number, to: number, expected: number): number[] {
  const found: number[] = [];
  if (expected <= 0) return found;
  const mean = (to - from) / expected;
  for (let at = from - mean * Math.log(1 - chance()); at < to; at -= mean * Math.log(1 - chance())) found.push(at);
  return found;
}
