import { timelineOf } from "../timeline/make.js";
import { OFF, ON, type Timeline, type TruthState } from "../timeline/timeline.js";
import { within, wholeSecond, type Movement } from "./movements.js";
import { randomStream, uniform } from "./random.js";
import { required } from "./required.js";
import type { Scenario } from "./scenario.js";
import { type Interval, union } from "../ground/intervals.js";

/** What truly happens: a timeline without unknown for every subject, and the stays of vehicles that are not the bay's own. */
export interface Truth {
  readonly subjects: ReadonlyMap<string, Timeline>;
  readonly strangers: readonly { readonly bay: string; readonly stay: Interval; readonly reads: Readonly<Record<string, number>> }[];
}

/**
 * Turns movements into true timelines over `[from, to)`.
 * In: people are here as they draw up, the door opens, the vehicle stands in the bay, the door closes.
 * Out: the door opens, the vehicle leaves the bay, the door closes, people are away once they are out of sight.
 * On foot: the door opens, the person passes, the door closes; a way without a door leaves no other trace.
 */
export function truthOf(scenario: Scenario, movements: readonly Movement[], from: number, to: number): Truth {
  const steps = new Map<string, [number, TruthState][]>();
  const initial = (name: string, on: boolean): void => void steps.set(name, [[-Infinity, on ? ON : OFF]]);
  for (const [person, { at_start }] of Object.entries(scenario.people)) initial(person, at_start === "here");
  for (const [bay, { at_start }] of Object.entries(scenario.bays)) initial(bay, at_start === "occupied");
  const openings = new Map<string, Interval[]>(Object.keys(scenario.doors).map((door) => [door, []]));
  for (const movement of movements) {
    if (movement.kind === "opening") {
      openingsOf(openings, movement).push({ from: movement.first, to: movement.second });
      continue;
    }
    const first = movement.kind === "trip" ? OFF : ON;
    addPassage(scenario, movement, movement.first, first, steps, openings);
    addPassage(scenario, movement, movement.second, first === ON ? OFF : ON, steps, openings);
  }
  const subjects = new Map<string, Timeline>();
  for (const [name, list] of steps) subjects.set(name, timelineOf(from, to, list.sort((a, b) => a[0] - b[0])));
  for (const [door, list] of openings) {
    const edges = union(list).flatMap(({ from: opened, to: closed }): [number, TruthState][] => [[opened, ON], [closed, OFF]]);
    subjects.set(door, timelineOf(from, to, [[-Infinity, OFF], ...edges]));
  }
  const strangers = movements
    .filter(({ kind, reads }) => kind === "stay" && Object.keys(reads).length > 0)
    .flatMap(({ bay, first, second, reads }) => (bay === null ? [] : [{ bay, stay: { from: first, to: second }, reads }]));
  return { subjects, strangers };
}

/** One passage at `at`, inwards (`state` on) or outwards (off). */
function addPassage(scenario: Scenario, movement: Movement, at: number, state: TruthState, steps: ReadonlyMap<string, [number, TruthState][]>, openings: ReadonlyMap<string, Interval[]>): void {
  const random = randomStream(scenario.seed, "passage", movement.name, String(at));
  const door = movement.through === null ? null : required(scenario.doors[movement.through], `the door ${movement.through}`);
  const onFoot = movement.bay === null;
  // Somebody on foot takes a few seconds at the door, whatever the door takes for a vehicle.
  const before = within(random, onFoot || door === null ? [3_000, 8_000] : door.opens_before);
  const after = within(random, onFoot || door === null ? [3_000, 15_000] : door.closes_after);
  if (door !== null) openingsOf(openings, movement).push({ from: at - before, to: at + after });
  if (movement.bay !== null) stepsOf(steps, movement.bay).push([at, state]);
  for (const person of movement.who) {
    const apart = wholeSecond(uniform(random, 0, 5_000));
    const when = state === ON ? at - (onFoot ? 0 : before + 5_000 + apart) : at + (onFoot ? 0 : after + 5_000 + apart);
    stepsOf(steps, person).push([when, state]);
  }
}

function openingsOf(openings: ReadonlyMap<string, Interval[]>, { name, through }: Movement): Interval[] {
  return required(openings.get(through ?? ""), `the door of ${name}`);
}

function stepsOf(steps: ReadonlyMap<string, [number, TruthState][]>, subject: string): [number, TruthState][] {
  return required(steps.get(subject), `the steps of ${subject}`);
}
