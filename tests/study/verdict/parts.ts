/** What several mechanisms are put together from. */
import { awayFromComings, awayFromVehicles, evenly } from "./fault-times.js";
import { changed, household, withFalseArrival, withSaying, type HouseholdSetting } from "./household.js";
import { householdLife, isHome, PEOPLE, type HouseholdLife, type LifePlan, type Person } from "./household-life.js";
import type { View } from "./mechanism.js";
import { oneOf, type Chance } from "./random.js";
import { MINUTE, SECOND, type Sensor, type Span, type World } from "./world.js";
import { yard, yardLife, type YardLife, type YardSetting } from "./yard.js";

/** Two sensors a person outside the rule, that hang on nothing the other hangs on. */
export const TWO_OUTSIDE: HouseholdSetting = { outside: ["tag", "lamp"], diary: false };
export const ONE_OUTSIDE: HouseholdSetting = { outside: ["tag"], diary: false };
export const FULL_DIARY: HouseholdSetting = { outside: [], diary: true };
/** A meter and a mat in each bay, on boards of their own. */
export const TWO_A_BAY: YardSetting = { meters: true, mats: true, diary: false };
export const BAY_DIARY: YardSetting = { meters: true, mats: false, diary: true };

/** False arrivals a month before those are taken out that fall on a true one: about two thirds are left. */
export const OFTEN = 24;

/** How false arrivals come about in a household. */
export interface FalseArrivals {
  readonly times?: (chance: Chance, life: HouseholdLife) => readonly number[];
  readonly fits?: (at: number, life: HouseholdLife) => boolean;
  /** Sorts of devices that are fooled. */
  readonly devices?: readonly string[];
  readonly together?: boolean;
  readonly who?: (at: number, life: HouseholdLife, chance: Chance) => Person | null;
  /** Instead of one list of devices: drawn for each. */
  readonly drawn?: (chance: Chance) => readonly string[];
}

/** A household with false arrivals where the view has the fault. */
export function falselyArriving(chance: Chance, span: Span, view: View, setting: HouseholdSetting, how: FalseArrivals = {}, plan: LifePlan = {}): { world: World; life: HouseholdLife } {
  const life = householdLife(chance, span, plan);
  let world = household(chance, life, setting);
  if (!view.faulty) return { world, life };
  const times = awayFromComings((how.times ?? ((some) => evenly(some, span, OFTEN)))(chance, life), life).filter((at) => how.fits?.(at, life) ?? true);
  for (const at of times) {
    const person = how.who === undefined ? oneOf(chance, PEOPLE) : how.who(at, life, chance);
    if (person === null) continue;
    world = withFalseArrival(world, life, chance, at, person, how.drawn?.(chance) ?? how.devices ?? ["phone"], how.together ?? false);
  }
  return { world, life };
}

/** Somebody who is not at home then, if there is one. */
export function whoIsOut(at: number, life: HouseholdLife, chance: Chance): Person | null {
  const out = PEOPLE.filter((person) => !isHome(life, person, at));
  return out.length === 0 ? null : oneOf(chance, out);
}

/** A yard in which vehicles pass the lane that do not come to stay, where the view has the fault. */
export function falselyPassing(chance: Chance, span: Span, view: View, setting: YardSetting, times: (chance: Chance, life: YardLife) => readonly number[] = (some) => evenly(some, span, OFTEN), each: (world: World, at: number) => World = (world) => world): { world: World; life: YardLife } {
  const life = yardLife(chance, span);
  const world = yard(chance, life, setting);
  if (!view.faulty) return { world, life };
  const passing = awayFromVehicles(times(chance, life), life);
  return { world: passing.reduce((now, at) => each(withPassage(now, at), at), world), life };
}

/** Somebody passes the loop and the beam. */
export function withPassage(world: World, at: number, loop = "lane-loop"): World {
  return withSaying(withSaying(world, [loop], { from: at, to: at + 6 * SECOND }, 1), ["lane-beam"], { from: at + 2 * SECOND, to: at + 8 * SECOND }, 1);
}

/** The world with one sensor saying to the second what another says. */
export function copied(world: World, from: string, to: string): World {
  const source = world.sensors.find(({ id }) => id === from)!;
  return changed(world, to, () => source.steps);
}

/** All that is said on (off) said later by so much. */
export function later(steps: Sensor["steps"], onMs: number, offMs: number, end: number): Sensor["steps"] {
  return steps.map((step, i) => (i === 0 ? step : { at: step.at + (step.says === 1 ? onMs : offMs), says: step.says })).filter(({ at }) => at < end);
}

/** Nine minutes. */
export const LATE = 9 * MINUTE;
