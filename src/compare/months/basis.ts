import { listText } from "../../judge/rule/words.js";
import type { Counts } from "../../result/counts.js";
import type { SensorDays } from "../../result/upkeep.js";
import { renamedFrom } from "../fleets/names.js";

/** Bases of truth that differ in more than this share of the judged time are not compared. Our own choice. */
const OTHER_BASIS = 0.25;

const words = { diary: "the diary", several: "several other sensors", one: "one other sensor" } as const;
type Teller = keyof typeof words;
const tellers = Object.keys(words) as Teller[];

type Shares = Readonly<Record<Teller, number>>;

/**
 * Why what a signal did in an earlier period (there called `was`) cannot be compared with what it did now, as the end of a sentence:
 * the truth about it came from another sort of witness. A diary that begins, or a third sensor that goes, moves every lag and every
 * miss without the sensor having changed. Null where it can be compared; counts of an older version do not say, and are compared.
 */
export function basisBarrier(signal: string, was: string, now: Counts, before: Counts): string | null {
  const [here, there] = [sharesOf(signal, now), sharesOf(was, before)];
  if (here === null || there === null) return null;
  const moved = tellers.reduce((so, one) => so + Math.abs(here[one] - there[one]), 0) / 2;
  if (moved <= OTHER_BASIS) return null;
  const [now_, then] = [told(here), told(there)];
  return then === now_ ? `the truth came from ${then} in other shares then` : `the truth came from ${then} then, and comes from ${now_} now`;
}

/** The name under which a signal stands in an earlier period. */
export function nameThen(signal: string, now: Counts, before: Counts): string {
  return renamedFrom(signal, now, before) ?? signal;
}

function sharesOf(signal: string, { upkeep }: Counts): Shares | null {
  const basis = upkeep?.sensors.find((one) => one.signal === signal)?.basis;
  const all = basis === undefined ? 0 : total(basis);
  return basis === undefined || all === 0 ? null : { diary: basis.diary / all, several: basis.several / all, one: basis.one / all };
}

function total({ diary, several, one }: SensorDays["basis"]): number {
  return diary + several + one;
}

function told(shares: Shares): string {
  return listText(tellers.filter((one) => shares[one] >= OTHER_BASIS).map((one) => words[one]));
}
