import { DateTime } from "luxon";
import { mulberry32, type Dice } from "./dice.js";

/*
 * What truly happened in a newcomer's month: an invented household in Vienna, two people with a vehicle each, a roll door and a
 * hatch to the loft. Shared with nothing in src/simulate: what a draft and an audit make of it is held against this.
 */

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

/** The household's clocks. */
export const ZONE = "Europe/Vienna";

/** One turn of a thing: at `at` it turned on (occupied, open, here) or off. */
export interface Turn {
  readonly at: number;
  readonly on: boolean;
}

/** A month's truth. Each list alternates, in time order. `visits`: another vehicle stood in bay 2. */
export interface MonthTruth {
  readonly from: number;
  readonly to: number;
  readonly bays: readonly [readonly Turn[], readonly Turn[]];
  readonly door: readonly Turn[];
  readonly hatch: readonly Turn[];
  readonly people: { readonly ines: readonly Turn[]; readonly karel: readonly Turn[] };
  readonly visits: readonly { readonly from: number; readonly to: number }[];
  /** No power in the house: nothing but the phones' own log was written. */
  readonly outage: { readonly from: number; readonly to: number };
}

/** Whether a thing was on at an instant; everything begins `start`. */
export function stateAt(turns: readonly Turn[], at: number, start: boolean): boolean {
  let [low, high] = [0, turns.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((turns[middle]?.at ?? Infinity) <= at) low = middle + 1;
    else high = middle;
  }
  return low === 0 ? start : (turns[low - 1]?.on ?? start);
}

/** The month `yyyy-MM` of the household. Everybody is at home at its first midnight, the doors are shut, both bays occupied. */
export function trueMonth(month: string, seed = 7): MonthTruth {
  const dice = mulberry32(seed);
  const first = DateTime.fromISO(`${month}-01`, { zone: ZONE });
  const days = first.daysInMonth ?? 30;
  const trips = [0, 1].map((who) => Array.from({ length: days }, (_, day) => tripsOf(first.plus({ days: day }), who, dice)).flat()) as [Trip[], Trip[]];
  const door: { readonly from: number; readonly to: number }[] = [];
  const bays = trips.map((own) => own.flatMap(({ leaves, returns }) => [drivesOut(leaves, door, dice), drivesIn(returns, door, dice)])) as [Turn[], Turn[]];
  const people = trips.map((own) => own.flatMap(({ leaves, returns }) => [{ at: leaves, on: false }, { at: returns, on: true }])) as [Turn[], Turn[]];
  const visits = [5, 12, 19].flatMap((day) => visitOn(first.plus({ days: day }), trips[1], door, dice));
  const hatch = [3, 10, 16, 23].flatMap((day) => {
    const at = first.plus({ days: day }).toMillis() + 14 * HOUR + dice.below(90) * MINUTE;
    return [{ at, on: true }, { at: at + (4 + dice.below(20)) * MINUTE, on: false }];
  });
  const outage = first.plus({ days: 12, hours: 2, minutes: 10 }).toMillis();
  return {
    from: first.toMillis(),
    to: first.plus({ months: 1 }).toMillis(),
    bays: [bays[0], withVisits(bays[1], visits)],
    door: merged(door),
    hatch,
    people: { ines: people[0], karel: people[1] },
    visits,
    outage: { from: outage, to: outage + 6.5 * HOUR },
  };
}

interface Trip {
  readonly leaves: number;
  readonly returns: number;
}

/** A working day, perhaps an errand in the evening; at the weekend one or two outings. */
function tripsOf(day: DateTime, who: number, dice: Dice): Trip[] {
  const at = (hour: number, spreadMinutes: number): number => day.set({ hour, minute: 0 }).toMillis() + dice.below(spreadMinutes * 60) * 1000;
  if (day.weekday <= 5) {
    const work = { leaves: at(7, 50) + who * 9 * MINUTE, returns: at(16, 70) + who * 20 * MINUTE };
    return dice.below(10) < 3 ? [work, { leaves: at(19, 30) + who * 31 * MINUTE, returns: at(21, 40) + who * 5 * MINUTE }] : [work];
  }
  const shopping = { leaves: at(9, 60) + who * 40 * MINUTE, returns: at(11, 80) + who * 25 * MINUTE };
  return dice.below(10) < 5 ? [shopping, { leaves: at(14, 50), returns: at(17, 110) }] : [shopping];
}

/** The door opens, the vehicle is out of the bay within two minutes, and the door shuts behind it. The person left with it. */
function drivesOut(leaves: number, door: { from: number; to: number }[], dice: Dice): Turn {
  const out = leaves - (15 + dice.below(40)) * 1000;
  door.push({ from: out - (40 + dice.below(60)) * 1000, to: leaves + (5 + dice.below(25)) * 1000 });
  return { at: out, on: false };
}

function drivesIn(returns: number, door: { from: number; to: number }[], dice: Dice): Turn {
  const into = returns + (30 + dice.below(40)) * 1000;
  door.push({ from: returns + 5_000, to: into + (40 + dice.below(120)) * 1000 });
  return { at: into, on: true };
}

/** A visitor parks in bay 2 while its own vehicle is at work. */
function visitOn(day: DateTime, trips: readonly Trip[], door: { from: number; to: number }[], dice: Dice): { from: number; to: number }[] {
  const noon = day.set({ hour: 12 }).toMillis();
  const away = trips.find(({ leaves, returns }) => leaves < noon - HOUR && returns > noon + 3 * HOUR);
  if (away === undefined) return [];
  const from = noon + dice.below(30) * MINUTE;
  const to = from + (60 + dice.below(60)) * MINUTE;
  door.push({ from: from - 50_000, to: from + 90_000 }, { from: to - 60_000, to: to + 40_000 });
  return [{ from, to }];
}

function withVisits(turns: readonly Turn[], visits: readonly { readonly from: number; readonly to: number }[]): Turn[] {
  return [...turns, ...visits.flatMap(({ from, to }) => [{ at: from, on: true }, { at: to, on: false }])].sort((a, b) => a.at - b.at);
}

/** Openings that touch are one. */
function merged(openings: readonly { readonly from: number; readonly to: number }[]): Turn[] {
  const all: { from: number; to: number }[] = [];
  for (const one of [...openings].sort((a, b) => a.from - b.from)) {
    const last = all.at(-1);
    if (last !== undefined && one.from <= last.to + 10_000) last.to = Math.max(last.to, one.to);
    else all.push({ ...one });
  }
  return all.flatMap(({ from, to }) => [{ at: from, on: true }, { at: to, on: false }]);
}
