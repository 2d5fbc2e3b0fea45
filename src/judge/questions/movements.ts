import { bisector } from "d3-array";
import { MINUTE_MS } from "../../ground/units.js";
import type { Interval } from "../../ground/intervals.js";
import type { Site, SubjectClass } from "../../site/site.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { changesOf } from "../../truth/reference/witness.js";

/** A change that a sensor saw. */
export interface Movement {
  readonly at: number;
  readonly subject: string;
  readonly class: SubjectClass;
  readonly to: 0 | 1;
}

/** Every change that any sensor of the site saw, in time order. A change over a gap too long to bridge has no instant and is left out. */
export function movementsOf(site: Site, accounts: ReadonlyMap<string, SignalAccount>): Movement[] {
  const classes = new Map(site.subjects.map((one) => [one.id, one.class]));
  return site.signals
    .flatMap(({ id, subject }): Movement[] => {
      const account = accounts.get(id);
      const subjectClass = classes.get(subject);
      if (account === undefined || subjectClass === undefined) return [];
      const { earliest, to, seen } = changesOf(account, site.bridgeMs);
      return Array.from(earliest, (at, i): Movement => ({ at, subject, class: subjectClass, to: to[i] === 1 ? 1 : 0 })).filter((_, i) => seen[i] === 1);
    })
    .sort((a, b) => a.at - b.at);
}

/** Nobody remembers which of two movements this close together it was: they are one. As early as an unlock may come. */
const TOGETHER_MS = 2 * MINUTE_MS;

const byTime = bisector((one: Movement) => one.at);

/** The movements, in time order, that {@link candidatesIn} has to look at for a time. */
export function movementsAround(movements: readonly Movement[], { from, to }: Interval): readonly Movement[] {
  return movements.slice(byTime.left(movements, from - TOGETHER_MS), byTime.right(movements, to));
}

/** A moment at which something may have happened. */
export interface Candidate {
  /** Of the earliest movement: a late phone cannot make a late unlock look in time. */
  readonly at: number;
  readonly movements: readonly Movement[];
}

/**
 * The candidates for somebody's arrival (`to` 1) or departure (0) inside the time: doors that opened, bays and people
 * that turned so. Movements within {@link TOGETHER_MS} of the earliest of them are one candidate; one that began before
 * the time is none.
 */
export function candidatesIn(movements: readonly Movement[], { from, to }: Interval, direction: 0 | 1): Candidate[] {
  const found: { at: number; movements: Movement[] }[] = [];
  for (const movement of movements) {
    if (movement.at <= from - TOGETHER_MS || movement.at >= to || movement.to !== (movement.class === "door" ? 1 : direction)) continue;
    const last = found.at(-1);
    if (last !== undefined && movement.at - last.at <= TOGETHER_MS) last.movements.push(movement);
    else found.push({ at: movement.at, movements: [movement] });
  }
  return found.filter((one) => one.at > from);
}
