import type { SubjectClass } from "../../site/site.js";
import type { Turn } from "../../timeline/timeline.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** One transition of the reference of one subject. */
export interface Movement {
  readonly subject: string;
  readonly class: SubjectClass;
  readonly to: 0 | 1;
  readonly turn: Turn;
  /** Which of the subject's turns to this state it is, from 0. */
  readonly index: number;
}

/** The movements of one arrival or departure; the anchor is one of them, the rest stand in order of time. */
export interface LinkedMovements {
  readonly kind: "arrival" | "departure";
  readonly anchor: Movement;
  readonly movements: readonly Movement[];
}

/** An episode being filled. A subject arrives (or departs) at most once in it; a door may move more often. */
interface OpenEpisode {
  readonly kind: "arrival" | "departure";
  readonly anchor: Movement;
  readonly subjects: Set<string>;
  readonly movements: Movement[];
}

/**
 * Puts reference transitions that belong together into arrivals and departures, in order of their anchors.
 *
 * The rule: **every bay and person in an episode turned within `joinMs` of its anchor.** Bays and persons turning on
 * make arrivals, turning off departures; the two never mix.
 * 1. The first bay transition not yet taken is an anchor; those of other bays up to `joinMs` after it join it.
 * 2. A person's transition joins the nearest such anchor within `joinMs` (the earlier of two equally near).
 * 3. Persons left over make episodes without a bay, by the same rule as bays in step 1.
 * 4. A door's movement joins the episode with the nearest bay or person transition within `joinMs`, arrival or
 *    departure; doors anchor nothing, and door movements alone are no episode. Links do not chain, so a busy day stays
 *    many episodes: none is longer than 2 × `joinMs` without doors, 4 × with them. No subject but a door is twice in
 *    one episode: a second arrival within `joinMs` is an episode of its own.
 */
export function linkMovements(movements: readonly Movement[], joinMs: number): LinkedMovements[] {
  const inOrder = movements.toSorted((a, b) => a.turn.at - b.turn.at);
  const groups = [1, 0]
    .flatMap((to) => {
      const sameWay = inOrder.filter((one) => one.to === to);
      return linkOneWay(sameWay, to === 1 ? "arrival" : "departure", joinMs);
    })
    .sort((a, b) => a.anchor.turn.at - b.anchor.turn.at);
  addDoors(
    groups,
    inOrder.filter((one) => one.class === "door"),
    joinMs,
  );
  return groups.map(({ kind, anchor, movements: linked }) => ({
    kind,
    anchor,
    movements: linked.toSorted((a, b) => a.turn.at - b.turn.at),
  }));
}

/** Steps 1 to 3, for movements of one direction in order of time. */
function linkOneWay(movements: readonly Movement[], kind: OpenEpisode["kind"], joinMs: number): OpenEpisode[] {
  const atBays = seedGroups(
    movements.filter((one) => one.class === "bay"),
    kind,
    joinMs,
  );
  const anchors = atBays.map((group) => group.anchor.turn.at);
  const leftOver = movements.filter((one) => {
    if (one.class !== "person") return false;
    const group = nearest(atBays, anchors, one.turn.at, joinMs, (candidate) => !candidate.subjects.has(one.subject));
    if (group !== null) add(group, one);
    return group === null;
  });
  return [...atBays, ...seedGroups(leftOver, kind, joinMs)];
}

/** The first movement not yet taken becomes an anchor; other subjects' movements up to `joinMs` after it join. */
function seedGroups(movements: readonly Movement[], kind: OpenEpisode["kind"], joinMs: number): OpenEpisode[] {
  const groups: OpenEpisode[] = [];
  for (const one of movements) {
    const last = groups.at(-1);
    if (last !== undefined && one.turn.at - last.anchor.turn.at <= joinMs && !last.subjects.has(one.subject)) add(last, one);
    else groups.push({ kind, anchor: one, subjects: new Set([one.subject]), movements: [one] });
  }
  return groups;
}

/** Step 4. */
function addDoors(groups: readonly OpenEpisode[], doors: readonly Movement[], joinMs: number): void {
  const places = groups.flatMap((group) => group.movements.map((one) => ({ group, at: one.turn.at }))).sort((a, b) => a.at - b.at);
  const owners = places.map((place) => place.group);
  const instants = places.map((place) => place.at);
  for (const one of doors) {
    const group = nearest(owners, instants, one.turn.at, joinMs, () => true);
    if (group !== null) add(group, one);
  }
}

/** The group whose instant is nearest to `at` and at most `joinMs` away, among those allowed; the earlier of equals. */
function nearest(
  groups: readonly OpenEpisode[],
  instants: readonly number[],
  at: number,
  joinMs: number,
  allowed: (group: OpenEpisode) => boolean,
): OpenEpisode | null {
  let best: OpenEpisode | null = null;
  let distance = Infinity;
  for (let i = firstAtOrAfter(instants, at - joinMs); ; i += 1) {
    const [instant, group] = [instants[i], groups[i]];
    if (instant === undefined || group === undefined || instant > at + joinMs) return best;
    const apart = Math.abs(instant - at);
    if (apart >= distance || !allowed(group)) continue;
    best = group;
    distance = apart;
  }
}

function add(group: OpenEpisode, movement: Movement): void {
  group.subjects.add(movement.subject);
  group.movements.push(movement);
}
