import { bisectRight } from "d3-array";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { instantOf, localDates } from "./local-calendar.js";
import { normal, randomStream, uniform, type Random } from "./random.js";
import { required } from "./required.js";
import type { OneOff, Routine, Scenario } from "./scenario.js";
import { DAY_MS } from "../ground/units.js";

/** The least time between two moves of one person or vehicle: a door must have time to close between them. */
const TURNAROUND_MS = 4 * 60_000;

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
 * around them: an occurrence in which somebody leaves who is already away is dropped, as in life.
 * Each occurrence draws from a stream of its own (its name and date), so that a new one changes no other. `at_start`
 * holds at the midnight before the day on which the exports begin.
 * @throws InputError when a one-off event contradicts another or the state at that time, or when an entry of the
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
    ...unfit.map(({ at, name }): ProblemParts => ({
      code: "scenario-shape",
      what: `routine.${at}: "${name}" never happens: each time it is due, a person or vehicle in it is on the other side of the door`,
      file: scenario.file,
      mend: "check at_start, and what else moves them",
    })),
    ...misfits.map(({ at, movement }): ProblemParts => ({
      code: "scenario-shape",
      what: `events.${at}: "${movement.name}" cannot happen then: a person or vehicle in it is already on the other side of the door, or moves less than 4 minutes before or after`,
      file: scenario.file,
      mend: "change its time, or delete what it contradicts",
    })),
  ];
  if (problems.length > 0) throw new InputError(problems);
  return planner.taken().sort((a, b) => a.first - b.first);
}

/** Adds the routine where it fits, day by day. Returns the entries that are due and never fit, with their positions. */
function takeRoutine(scenario: Scenario, planner: Planner, from: number, to: number): { readonly at: number; readonly name: string }[] {
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
  const names = new Map(due.map(({ at, movement }) => [at, movement.name]));
  return [...names].map(([at, name]) => ({ at, name })).filter(({ at }) => !fitted.has(at)).sort((a, b) => a.at - b.at);
}

function movementOn(scenario: Scenario, entry: Routine | OneOff, date: string, reads: Readonly<Record<string, number>>, random: Random): Movement {
  const kind = entry.leaves !== undefined ? "trip" : entry.arrives !== undefined ? "stay" : "opening";
  const at = required(entry.leaves ?? entry.arrives ?? entry.opens, `the time of ${entry.name}`);
  const length = required(entry.away ?? entry.stays ?? entry.for, `the length of ${entry.name}`);
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

/** Rounded to a whole second: exports are written in seconds, and truth is no finer. */
export function wholeSecond(ms: number): number {
  return Math.round(ms / 1000) * 1000;
}

/** Evenly within a scenario's `[least, most]`, in whole seconds. */
export function within(random: Random, [least, most]: readonly [number, number]): number {
  return wholeSecond(uniform(random, least, most));
}

interface Planner {
  /** Adds a movement and returns true, unless it contradicts the earlier ones. */
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
    const index = bisectRight(times, movement.first);
    const present = presentAtStart.get(subject) === (index % 2 === 0);
    const free = (times[index - 1] ?? -Infinity) + TURNAROUND_MS <= movement.first && movement.second + TURNAROUND_MS <= (times[index] ?? Infinity);
    return free && present === (movement.kind === "trip") ? index : null;
  };
  return {
    take(movement) {
      const subjects = movement.kind === "opening" ? [] : [...new Set([...movement.who, ...(movement.bay === null ? [] : [movement.bay])])];
      const slots = subjects.map((subject) => ({ subject, index: slot(subject, movement) }));
      if (slots.some(({ index }) => index === null)) return false;
      for (const { subject, index } of slots) {
        const times = moves.get(subject) ?? [];
        moves.set(subject, times.toSpliced(index ?? 0, 0, movement.first, movement.second));
      }
      movements.push(movement);
      return true;
    },
    taken: () => [...movements],
  };
}
