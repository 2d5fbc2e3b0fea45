import { InputError, type ProblemParts } from "../ground/problem.js";
import { instantOf, localDates } from "./local-calendar.js";
import { normal, randomStream, uniform, type Random } from "./random.js";
import type { OneOff, Routine, Scenario } from "./scenario.js";
import { DAY_MS } from "../ground/units.js";


/** Nothing moves again sooner than this: a door must have time to close between two passages of one vehicle. */
export const TURNAROUND_MS = 4 * 60_000;

/** One thing that truly happened: a trip (out and back), a stay (in and out again) or a door held open. */
export interface Movement {
  readonly name: string;
  readonly kind: "trip" | "stay" | "opening";
  readonly who: readonly string[];
  readonly bay: string | null;
  readonly through: string | null;
  /** A trip leaves at `first` and is back at `second`; a stay arrives at `first` and leaves at `second`. Whole seconds. */
  readonly first: number;
  readonly second: number;
  /** Meter id → what it reads over this movement's vehicle, in its own unit. Empty for the bay's own vehicle. */
  readonly reads: Readonly<Record<string, number>>;
}

/**
 * Everything that happens from `from` to `to`, in order of `first`. One-off events come first and the routine fits
 * around them: an occurrence in which somebody would have to leave who is already away is left out, as in life.
 * Each occurrence draws from a stream of its own (its name and date), so that adding one changes no other.
 * `at_start` is how things stand at the midnight that begins the day before the exports'.
 * @throws InputError when a one-off event contradicts another or what must be so at that time, or when an entry of the
 * routine never fits.
 */
export function movementsOf(scenario: Scenario, from: number, to: number): Movement[] {
  const planner = planOf(scenario);
  const events = scenario.events
    .map((event, at) => ({ at, movement: movementOn(scenario, event, event.on, event.reads, randomStream(scenario.seed, "event", event.name, event.on)) }))
    .sort((a, b) => a.movement.first - b.movement.first);
  const later = events.filter(({ movement }) => !planner.take(movement));
  const unfit = takeRoutine(scenario, planner, from, to);
  // What did not fit at first may rest on the routine: somebody must have come before they can go.
  const misfits = later.filter(({ movement }) => !planner.take(movement));
  const problems = [
    ...unfit.map((at): ProblemParts => ({
      code: "scenario-shape",
      what: `routine.${at}: "${scenario.routine[at]!.name}" never happens: whenever it is due, somebody or something in it is on the other side of the door`,
      file: scenario.file,
      mend: "check at_start, and what else moves them",
    })),
    ...misfits.map(({ at, movement }): ProblemParts => ({
      code: "scenario-shape",
      what: `events.${at}: "${movement.name}" cannot happen then: somebody or something in it is already on the other side of the door, or moved less than 4 minutes before or after`,
      file: scenario.file,
      mend: "move it, or leave out what it contradicts",
    })),
  ];
  if (problems.length > 0) throw new InputError(problems);
  return planner.taken().sort((a, b) => a.first - b.first);
}

/** Takes what fits of the routine, day by day; returns the positions of entries that were due and never fitted. */
function takeRoutine(scenario: Scenario, planner: Planner, from: number, to: number): number[] {
  // A night shift that began the day before the exports do still ends in them.
  const dates = localDates(scenario.timezone, from - DAY_MS, to);
  const due = scenario.routine
    .flatMap((routine, at) => dates.filter(({ day }) => routine.days.includes(day)).map(({ date }) => ({ routine, at, date })))
    .flatMap(({ routine, at, date }) => {
      const random = randomStream(scenario.seed, "routine", routine.name, date);
      return random() < routine.chance ? [{ at, movement: movementOn(scenario, routine, date, {}, random) }] : [];
    })
    .sort((a, b) => a.movement.first - b.movement.first);
  const fitted = new Set(due.filter(({ movement }) => planner.take(movement)).map(({ at }) => at));
  return [...new Set(due.map(({ at }) => at))].filter((at) => !fitted.has(at)).sort((a, b) => a - b);
}

function movementOn(scenario: Scenario, entry: Routine | OneOff, date: string, reads: Readonly<Record<string, number>>, random: Random): Movement {
  const kind = entry.leaves !== undefined ? "trip" : entry.arrives !== undefined ? "stay" : "opening";
  const at = entry.leaves ?? entry.arrives ?? entry.opens!;
  const length = entry.away ?? entry.stays ?? entry.for!;
  const first = wholeSecond(instantOf(scenario.timezone, date, at) + spread(random, entry.jitter ?? 0));
  const least = kind === "opening" ? 5_000 : TURNAROUND_MS;
  const second = first + Math.max(least, wholeSecond(length + spread(random, entry.length_jitter ?? 0)));
  return { name: entry.name, kind, who: entry.who, bay: entry.bay ?? null, through: entry.through ?? null, first, second, reads };
}

/** Normal with two standard deviations = `jitterMs`, cut off at 1.5 × `jitterMs`. */
function spread(random: Random, jitterMs: number): number {
  const limit = 1.5 * jitterMs;
  return Math.max(-limit, Math.min(limit, (normal(random) * jitterMs) / 2));
}

/** Rounded to a whole second: exports are written in seconds, and truth should be no finer than they can say. */
export function wholeSecond(ms: number): number {
  return Math.round(ms / 1000) * 1000;
}

/** Evenly within a scenario's `[least, most]`, in whole seconds. */
export function within(random: Random, [least, most]: readonly [number, number]): number {
  return wholeSecond(uniform(random, least, most));
}

interface Planner {
  /** True, and kept, when nobody and nothing in it would have to move in a way that contradicts what was taken before. */
  take(movement: Movement): boolean;
  taken(): Movement[];
}

/** Per person and vehicle: when they move, alternately in and out, beginning from where they are at the start. */
function planOf(scenario: Scenario): Planner {
  const moves = new Map<string, number[]>();
  const presentAtStart = new Map<string, boolean>([
    ...Object.entries(scenario.people).map(([person, { at_start }]) => [person, at_start === "here"] as const),
    ...Object.entries(scenario.bays).map(([bay, { at_start }]) => [bay, at_start === "occupied"] as const),
  ]);
  const movements: Movement[] = [];
  const slot = (subject: string, movement: Movement): number | null => {
    const times = moves.get(subject) ?? [];
    const index = upperBound(times, movement.first);
    const present = presentAtStart.get(subject)! === (index % 2 === 0);
    const free = (times[index - 1] ?? -Infinity) + TURNAROUND_MS <= movement.first && movement.second + TURNAROUND_MS <= (times[index] ?? Infinity);
    return free && present === (movement.kind === "trip") ? index : null;
  };
  return {
    take(movement) {
      const subjects = movement.kind === "opening" ? [] : [...new Set([...movement.who, ...(movement.bay === null ? [] : [movement.bay])])];
      const slots = subjects.map((subject) => slot(subject, movement));
      if (slots.includes(null)) return false;
      subjects.forEach((subject, i) => {
        const times = moves.get(subject) ?? [];
        times.splice(slots[i]!, 0, movement.first, movement.second);
        moves.set(subject, times);
      });
      movements.push(movement);
      return true;
    },
    taken: () => [...movements],
  };
}

function upperBound(times: readonly number[], instant: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (times[middle]! <= instant) low = middle + 1;
    else high = middle;
  }
  return low;
}
