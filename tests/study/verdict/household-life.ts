import { between, type Chance } from "./random.js";
import { wholeSecond } from "./steps.js";
import { DAY, HOUR, MINUTE, SECOND, type Span } from "./world.js";

export const PEOPLE = ["ana", "ben"] as const;
/** One of the two who live there. */
export type Person = (typeof PEOPLE)[number];

/** When who was home, and when the gate was moved for it. */
export interface HouseholdLife extends Span {
  readonly home: Readonly<Record<Person, readonly Span[]>>;
  readonly gate: readonly Span[];
}

/** What is out of the ordinary. */
export interface LifePlan {
  /** Nobody comes or goes in it, and nobody is home. */
  readonly holiday?: Span;
  /** Share of trips on which both go together, in one vehicle. */
  readonly together?: number;
  /** Share of evenings on which a late trip ends after midnight. */
  readonly late?: number;
}

/** Arrivals are this far apart, so that each is an occasion by itself. */
const APART = 32 * MINUTE;

/** Two people who go out once to three times a day each, on every day alike but for weekends, when they go later. */
export function householdLife(chance: Chance, span: Span, plan: LifePlan = {}): HouseholdLife {
  const trips: Record<Person, Span[]> = { ana: [], ben: [] };
  for (let day = span.from; day < span.to; day += DAY) {
    const weekend = [6, 0].includes(new Date(day).getUTCDay());
    for (const person of PEOPLE) trips[person].push(...dayTrips(chance, day, weekend, plan.late ?? 0));
  }
  if (plan.together !== undefined) {
    const joint = trips.ana.filter(() => chance() < plan.together!);
    trips.ben = [...trips.ben.filter((trip) => !joint.some((one) => one.from < trip.to + APART && one.to + APART > trip.from)), ...joint].sort((a, b) => a.from - b.from);
  }
  const kept = apart(trips, span, plan);
  const home = { ana: homeOf(kept.ana, span), ben: homeOf(kept.ben, span) };
  const moves = [...kept.ana, ...kept.ben].flatMap(({ from, to }) => [
    { from: from - 30 * SECOND, to: from + between(chance, 20, 40) * SECOND },
    { from: to - 20 * SECOND, to: to + between(chance, 30, 60) * SECOND },
  ]);
  return { ...span, home, gate: joined(moves) };
}

function dayTrips(chance: Chance, day: number, weekend: boolean, late: number): Span[] {
  const start = day + (weekend ? between(chance, 9, 11.5) : between(chance, 6.5, 9)) * HOUR;
  const first = { from: start, to: start + (weekend ? between(chance, 1, 3) : between(chance, 2.5, 7)) * HOUR };
  const again = first.to + between(chance, 0.8, 2.5) * HOUR;
  const second = { from: again, to: again + between(chance, 0.7, 2.5) * HOUR };
  const trips = chance() < 0.85 ? [first, second] : [first];
  const out = day + between(chance, 21.8, 22.6) * HOUR;
  if (chance() < late && trips.at(-1)!.to < out - HOUR) trips.push({ from: out, to: day + between(chance, 24.3, 29) * HOUR });
  return trips.map(({ from, to }) => ({ from: wholeSecond(from), to: wholeSecond(to) }));
}

/** Without trips that would end within {@link APART} of the end of another, or begin too soon after a return; joint ones stay joint. */
function apart(trips: Record<Person, readonly Span[]>, span: Span, { holiday }: LifePlan): Record<Person, Span[]> {
  const kept: Record<Person, Span[]> = { ana: [], ben: [] };
  const all = PEOPLE.flatMap((person) => trips[person].map((trip) => ({ person, trip }))).sort((a, b) => a.trip.to - b.trip.to);
  let last: Span | null = null;
  for (const { person, trip } of all) {
    const joint = last !== null && last.to === trip.to && last.from === trip.from;
    if (!joint && last !== null && trip.to - last.to < APART) continue;
    if (trip.from < (kept[person].at(-1)?.to ?? span.from) + APART || trip.to > span.to - HOUR) continue;
    if (holiday !== undefined && trip.to > holiday.from - HOUR && trip.from < holiday.to + HOUR) continue;
    kept[person].push(trip);
    last = trip;
  }
  if (holiday !== undefined) {
    PEOPLE.forEach((person, i) => {
      const away = { from: holiday.from + i * 0.5 * MINUTE, to: holiday.to + i * 0.5 * MINUTE };
      kept[person] = [...kept[person], away].sort((a, b) => a.from - b.from);
    });
  }
  return kept;
}

function homeOf(trips: readonly Span[], span: Span): Span[] {
  return [...trips, { from: span.to, to: span.to }].map((trip, i) => ({ from: i === 0 ? span.from : trips[i - 1]!.to, to: trip.from }));
}

/** Gate movements less than a few seconds apart are one. */
function joined(moves: readonly Span[]): Span[] {
  const found: { from: number; to: number }[] = [];
  for (const { from, to } of moves.toSorted((a, b) => a.from - b.from)) {
    const last = found.at(-1);
    if (last !== undefined && from <= last.to + 5 * SECOND) last.to = Math.max(last.to, wholeSecond(to));
    else found.push({ from: wholeSecond(from), to: wholeSecond(to) });
  }
  return found;
}

/** When somebody came home, in order. */
export function comings(life: HouseholdLife): { readonly person: Person; readonly at: number }[] {
  return PEOPLE.flatMap((person) => life.home[person].slice(1).map(({ from }) => ({ person, at: from }))).sort((a, b) => a.at - b.at);
}

/** Whether nobody comes or goes from `before` before to `after` after the instant. */
export function quiet(life: HouseholdLife, at: number, before = 20 * MINUTE, after = 12 * MINUTE): boolean {
  return !PEOPLE.some((person) => life.home[person].some(({ from, to }) => [from, to].some((edge) => edge > at - before && edge < at + after)));
}

/** Whether the person is home then. */
export function isHome(life: HouseholdLife, person: Person, at: number): boolean {
  return life.home[person].some(({ from, to }) => at >= from && at < to);
}
