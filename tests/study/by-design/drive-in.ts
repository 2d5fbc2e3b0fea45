/** What the mechanisms are put together from: a household that drives in, and moments at which both parts of its rule are wrong at once. */
import { BAYS, driveInHome, driveInRule, type Faults } from "../evidence/household.js";
import { COVERED, PLAIN } from "../evidence/households.js";
import { awayFromComings, evenly } from "../verdict/fault-times.js";
import { notesOf, withSaying } from "../verdict/household.js";
import { householdLife, isHome, PEOPLE, type HouseholdLife, type LifePlan, type Person } from "../verdict/household-life.js";
import type { View } from "../verdict/mechanism.js";
import { OFTEN } from "../verdict/parts.js";
import { between, oneOf, type Chance } from "../verdict/random.js";
import { MINUTE, SECOND, type Span, type World } from "../verdict/world.js";

/** Sorts of sensors: the rule's own are the meters and phones. */
export type Sort = "meter" | "mat" | "eye" | "phone" | "tag" | "lamp";

/** Who tells the truth besides the rule. */
export interface DriveInSetting {
  /** Sensors outside the rule: of each bay and of each person. */
  readonly outside: readonly Sort[];
  readonly diary: boolean;
  /** The cause that a sort declares; by default each has one of its own. */
  readonly cause?: Readonly<Partial<Record<Sort, string>>>;
}

export const TWO_OUTSIDE: DriveInSetting = { outside: ["mat", "eye", "tag", "lamp"], diary: false };
export const ONE_OUTSIDE: DriveInSetting = { outside: ["mat", "tag"], diary: false };
export const FULL_DIARY: DriveInSetting = { outside: [], diary: true };

/** How both parts come to be wrong at once. */
export interface FalseDriveIns {
  readonly times?: (chance: Chance, life: HouseholdLife) => readonly number[];
  readonly fits?: (at: number) => boolean;
  /** Sorts that are fooled; the rule's own if not given. */
  readonly fooled?: readonly Sort[];
  readonly who?: (at: number, life: HouseholdLife, chance: Chance) => Person | null;
  readonly faults?: Partial<Faults>;
  readonly plan?: LifePlan;
}

const RULES_OWN: readonly Sort[] = ["meter", "phone"];

/** A household that drives in, with both parts of its rule wrong at once now and then where the view has the fault. */
export function falselyDrivingIn(chance: Chance, span: Span, view: View, setting: DriveInSetting, how: FalseDriveIns = {}): { world: World; life: HouseholdLife } {
  const life = householdLife(chance, span, how.plan ?? {});
  let world = settled(driveInHome(chance, life, { ...PLAIN, ...how.faults }, driveInRule(COVERED)), setting);
  if (!view.faulty) return { world, life };
  const times = awayFromComings((how.times ?? ((some) => evenly(some, span, OFTEN)))(chance, life), life).filter((at) => how.fits?.(at) ?? true);
  for (const at of times) {
    const person = how.who === undefined ? oneOf(chance, PEOPLE) : how.who(at, life, chance);
    if (person !== null) world = withFalseDriveIn(world, life, chance, at, person, how.fooled ?? RULES_OWN);
  }
  return { world, life };
}

function settled(world: World, { outside, diary, cause }: DriveInSetting): World {
  const sorts = [...RULES_OWN, ...outside];
  const sensors = world.sensors.filter(({ id }) => sorts.includes(sortOf(id))).map((sensor) => ({ ...sensor, shares: [cause?.[sortOf(sensor.id)] ?? sensor.shares[0]!] }));
  return { ...world, sensors, diary: diary ? notesOf(world, [...BAYS, ...PEOPLE]) : [] };
}

/** The sort of a sensor, from its name. */
export function sortOf(sensor: string): Sort {
  return sensor.split("-")[0] as Sort;
}

/** The sensors of some sorts. */
export function ofSorts(world: World, sorts: readonly Sort[]): string[] {
  return world.sensors.flatMap(({ id }) => (sorts.includes(sortOf(id)) ? [id] : []));
}

/**
 * A vehicle that stands in a bay is lost for a moment and found again, or one is seen where none stands, just as devices of a person lose
 * their network and find it again, or are heard while their owner is out: the rule fires and nobody came.
 */
export function withFalseDriveIn(world: World, life: HouseholdLife, chance: Chance, at: number, person: Person, fooled: readonly Sort[]): World {
  const stands = (bay: string): boolean => world.subjects.find(({ id }) => id === bay)!.on.some(({ from, to }) => from < at - 3 * MINUTE && to > at + 3 * MINUTE);
  const bay = BAYS.find(stands) ?? BAYS[0]!;
  let now = world;
  for (const sort of fooled) {
    const turn = at + between(chance, 0, 9) * SECOND;
    const ofBay = ["meter", "mat", "eye"].includes(sort);
    const isOn = ofBay ? stands(bay) : isHome(life, person, at);
    const lasts = ofBay ? between(chance, 40, 70) * SECOND : 6 * MINUTE;
    const stretch = isOn ? { from: turn - lasts, to: turn } : { from: turn, to: turn + lasts };
    now = withSaying(now, [`${sort}-${ofBay ? bay : person}`], stretch, isOn ? 0 : 1);
  }
  return now;
}
