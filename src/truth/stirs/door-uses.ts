/* eslint-disable @typescript-eslint/no-non-null-assertion -- the lists of a witness's changes are parallel, and a use has at least one movement */
import { SECOND_MS } from "../../ground/units.js";
import { ON } from "../../timeline/timeline.js";
import type { Witness } from "../reference/witness.js";

/**
 * A time at which doors moved: opened, passed and shut. Whoever came in came when it `opened`; whoever left was gone when it
 * `shut`. Epoch milliseconds; equal where only one movement was seen.
 */
export interface DoorUse {
  readonly opened: number;
  readonly shut: number;
}

/**
 * Movements of any door no further apart than this are one use (milliseconds): the gate, the house door and the way
 * between them; longer, and two uses would be told as one. Our own choice.
 */
const SAME_USE_MS = 90 * SECOND_MS;

/** Every use of the doors, in order and disjoint: movements whose instants were seen, put together. */
export function doorUses(doors: readonly Pick<Witness, "changes">[]): DoorUse[] {
  const movements = doors
    .flatMap(({ changes: { at, to, seen } }) => Array.from(at, (instant, i) => ({ at: instant, to: to[i]!, seen: seen[i] === 1 })))
    .filter(({ seen }) => seen)
    .sort((a, b) => a.at - b.at);
  const uses: { at: number; to: number }[][] = [];
  for (const one of movements) {
    const last = uses.at(-1);
    if (last !== undefined && one.at - last.at(-1)!.at <= SAME_USE_MS) last.push(one);
    else uses.push([one]);
  }
  return uses.map((use) => ({
    opened: (use.find(({ to }) => to === ON) ?? use[0]!).at,
    shut: (use.findLast(({ to }) => to !== ON) ?? use.at(-1)!).at,
  })).map(({ opened, shut }) => ({ opened: Math.min(opened, shut), shut: Math.max(opened, shut) }));
}
