import type { SubjectClass } from "../../site/site.js";
import { stateAt } from "../../timeline/state-at.js";
import { UNKNOWN } from "../../timeline/timeline.js";
import type { Boundary } from "./layout.js";
import { NEARBY_MS } from "./priors.js";
import type { Witness } from "./witness.js";
import { intersection, totalMs, union, type Interval } from "../../ground/intervals.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** Whether something of another class moved near each boundary. */
export interface Nearby {
  readonly class: SubjectClass;
  /** By boundary: 0 nothing moved, 1 something did, 2 nobody could see. */
  readonly moved: Uint8Array;
  /** The share of the whole period that lies within {@link NEARBY_MS} of such a movement. */
  readonly baseShare: number;
}

const classes: readonly SubjectClass[] = ["bay", "door", "person"];

/**
 * Movements of the other two classes near each candidate transition of a subject: a vehicle rarely comes without a door
 * or a person moving. Any change in either direction counts, if its instant was seen. A signal of the same group as
 * every witness that changed gives no evidence: the same glitch would explain both. Nor does anything where no change
 * was seen. A movement speaks for the nearest boundary alone (the earlier of equals), and gives no evidence for or
 * against its neighbour. `others` are the witnesses of other subjects that may be used at all. A class without any is
 * left out.
 */
export function movementsNearby(
  boundaries: readonly Boundary[],
  own: readonly Witness[],
  others: readonly Witness[],
  subjectClass: SubjectClass,
  shareNearby: (speakers: readonly Witness[]) => number,
): Nearby[] {
  const surroundings = boundaries.map((boundary, b) =>
    surroundingsOf(boundary, boundaries[b - 1]?.instant ?? -Infinity, boundaries[b + 1]?.instant ?? Infinity),
  );
  return classes.flatMap((name) => {
    const speakers = others.filter((one) => one.class === name);
    if (name === subjectClass || speakers.length === 0) return [];
    const placed = speakers.map((witness): Speaker => ({ witness, tiedTo: own.map(({ group }) => group === witness.group) }));
    const moved = Uint8Array.from(surroundings, (one) => (one === null ? 2 : movedAt(one, placed)));
    return [{ class: name, moved, baseShare: shareNearby(speakers) }];
  });
}

/** A witness of another subject, and which of the subject's own are in its group. */
interface Speaker {
  readonly witness: Witness;
  readonly tiedTo: readonly boolean[];
}

/** The time to look at around a boundary, and which witnesses' changes were seen there. */
interface Surroundings extends Interval {
  readonly instant: number;
  readonly seen: readonly number[];
  /** The neighbouring boundaries' instants. */
  readonly before: number;
  readonly after: number;
}

function surroundingsOf({ instant, members }: Boundary, before: number, after: number): Surroundings | null {
  let [first, last] = [Infinity, -Infinity];
  const seen: number[] = [];
  for (const one of members) {
    if (!one.seen) continue;
    first = Math.min(first, one.at);
    last = Math.max(last, one.at);
    seen.push(one.witness);
  }
  if (seen.length > 0) return { instant, before, after, from: first - NEARBY_MS, to: last + NEARBY_MS, seen };
  return members.length > 0 ? null : { instant, before, after, from: instant - NEARBY_MS, to: instant + NEARBY_MS, seen };
}

function movedAt({ instant, before, after, from, to, seen }: Surroundings, speakers: readonly Speaker[]): 0 | 1 | 2 {
  let watched = false;
  let claimed = false;
  for (const { witness, tiedTo } of speakers) {
    if (seen.length > 0 && seen.every((w) => tiedTo[w])) continue;
    const { movements, account } = witness;
    for (const at of movements.subarray(firstAtOrAfter(movements, from))) {
      if (at > to) break;
      const away = Math.abs(at - instant);
      if (away < Math.abs(at - before) && away <= Math.abs(at - after)) return 1;
      claimed = true;
    }
    watched ||= stateAt(account, instant) !== UNKNOWN;
  }
  return watched && !claimed ? 0 : 2;
}

/** The share of the period that lies within {@link NEARBY_MS} of a movement of any of these. */
export function shareNearMovements(speakers: readonly Witness[], period: Interval): number {
  const near = speakers.flatMap(({ movements }) => Array.from(movements, (at): Interval => ({ from: at - NEARBY_MS, to: at + NEARBY_MS })));
  return totalMs(intersection(union(near), [period])) / (period.to - period.from);
}
