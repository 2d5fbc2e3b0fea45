/**
 * A household of two with a vehicle each and two bays: trips by vehicle and on foot, visitors' vehicles, false reports of meters and
 * phones, and references outside the rule. The rule unlocks when any bay has filled and any phone has come home.
 */
import { comings, householdLife, isHome, PEOPLE, type HouseholdLife, type Person } from "../verdict/household-life.js";
import { withSaying } from "../verdict/household.js";
import { between, instantsEvenly, oneOf, type Chance } from "../verdict/random.js";
import { following, wholeSecond } from "../verdict/steps.js";
import { DAY, HOUR, MINUTE, SECOND, type Part, type Rule, type Sensor, type Span, type Subject, type World } from "../verdict/world.js";

const BAY_OF: Readonly<Record<Person, string>> = { ana: "bay-1", ben: "bay-2" };
/** A bay a person. */
export const BAYS = PEOPLE.map((person) => BAY_OF[person]);

/** How false reports come about. */
export interface Faults {
  /** `even`: at any time. `hours`: seven of ten between 17 and 19 h. `nights`: seven of ten between 0 and 5 h. `clumps`: four to seven within four hours. */
  readonly times: "even" | "hours" | "nights" | "clumps";
  /** Share of arrivals by vehicle after which the bay's meter drops out and comes back 200 to 540 s later. */
  readonly turnsAgain: number;
  /** Visitors' vehicles a month. */
  readonly visitors: number;
  /** Chance that a reference does not see a stay. */
  readonly overseen: number;
  /** References say nothing from 23 to 6 h on four days of five. */
  readonly asleep: boolean;
}

/** False reports a month of 31 days: of the meters, of phones whose owner is home, of phones whose owner is out. */
const METER_FAULTS = 12;
const PHONE_FAULTS_HOME = 60;
const PHONE_FAULTS_OUT = 8;
/** Share of trips by vehicle; the others are walks. */
const BY_VEHICLE = 0.75;

/** Unlocks when a bay has just filled and a phone has come home; right when a vehicle and a person came at most so long ago. */
export function driveInRule(rightMinutes: number): Rule {
  return {
    name: "unlock on driving in",
    act: "unlock",
    parts: [
      { form: "turned", anyOf: BAYS.map((bay) => `meter-${bay}`), withinMs: 2 * MINUTE },
      { form: "turned", anyOf: PEOPLE.map((person) => `phone-${person}`), withinMs: 10 * MINUTE },
    ],
    restMs: 5 * MINUTE,
    right: { form: "each came", groups: [BAYS, PEOPLE], withinMs: rightMinutes * MINUTE },
  };
}

/** Locks when both bays have been empty and both phones away for five minutes. */
export const LOCK_RULE: Rule = lockRule("lock when all have driven off", [...BAYS.map((bay) => `meter-${bay}`), ...PEOPLE.map((person) => `phone-${person}`)]);

/** Locks when both phones have been away for five minutes. */
export const LOCK_BY_PHONES: Rule = lockRule("lock when all have left", PEOPLE.map((person) => `phone-${person}`));

function lockRule(name: string, sensors: readonly string[]): Rule {
  return {
    name,
    act: "lock",
    parts: sensors.map((sensor): Part => ({ form: "is", sensor, says: 0, heldMs: 5 * MINUTE })),
    restMs: 5 * MINUTE,
    right: { form: "all off", subjects: PEOPLE },
  };
}

/** When a vehicle stands in each bay. */
type Bays = Readonly<Record<string, readonly Span[]>>;

/** Some days of the household, false reports among them. */
export function driveInWorld(chance: Chance, span: Span, faults: Faults, rule: Rule): World {
  return driveInHome(chance, householdLife(chance, span), faults, rule);
}

/** The same for people whose comings and goings are given. */
export function driveInHome(chance: Chance, life: HouseholdLife, faults: Faults, rule: Rule): World {
  const bays = baysOf(chance, life, faults.visitors);
  const sensors = [
    ...BAYS.flatMap((bay) => [sensor(chance, life, "meter", bay, bays[bay]!, [5, 20], 0), sensor(chance, life, "mat", bay, bays[bay]!, [2, 10], faults.overseen), sensor(chance, life, "eye", bay, bays[bay]!, [5, 30], faults.overseen)]),
    ...PEOPLE.flatMap((person) => [sensor(chance, life, "phone", person, life.home[person], [5, 40], 0), sensor(chance, life, "tag", person, life.home[person], [4, 50], faults.overseen), sensor(chance, life, "lamp", person, life.home[person], [10, 60], faults.overseen)]),
  ];
  const subjects = [...BAYS.map((id): Subject => ({ id, class: "bay", on: bays[id]! })), ...PEOPLE.map((id): Subject => ({ id, class: "person", on: life.home[id] }))];
  const world: World = { from: life.from, to: life.to, place: "household", subjects, sensors, diary: [], rule, tried: [], exporting: { overlapping: false, hoursOff: {} } };
  const lying = withPhoneFaults(withMeterFaults(world, chance, bays, faults), chance, life, faults);
  return faults.asleep ? withReferencesAsleep(lying, chance) : lying;
}

const REFERENCES = ["mat", "eye", "tag", "lamp"];
/** Share of nights in which the references say nothing. */
const ASLEEP = 0.8;

function withReferencesAsleep(world: World, chance: Chance): World {
  const ids = world.sensors.filter(({ id }) => REFERENCES.some((sort) => id.startsWith(`${sort}-`))).map(({ id }) => id);
  let now = world;
  for (let day = world.from; day < world.to; day += DAY) {
    if (chance() < ASLEEP) now = withSaying(now, ids, { from: day + 23 * HOUR, to: Math.min(world.to, day + 30 * HOUR) }, 2);
  }
  return now;
}

function sensor(chance: Chance, life: HouseholdLife, sort: string, subject: string, on: readonly Span[], lag: readonly [number, number], overseen: number): Sensor {
  const kind = sort === "meter" ? "distance" : sort === "phone" ? "phone" : "flag";
  const steps = following(life, on, () => between(chance, ...lag) * SECOND, ({ from }) => from > life.from && chance() < overseen);
  return { id: `${sort}-${subject}`, on: subject, source: `${sort}s`, kind, shares: [`${sort}-link`], everyMs: HOUR, steps };
}

/** Each person's own vehicle, gone on three trips of four; visitors where a bay stands empty for long enough. */
function baysOf(chance: Chance, life: HouseholdLife, visitorsAMonth: number): Bays {
  const own = PEOPLE.map((person): readonly [string, Span[]] => {
    const stands: { from: number; to: number }[] = [{ from: life.from, to: life.to }];
    life.home[person].slice(1).forEach(({ from }, i) => {
      if (chance() >= BY_VEHICLE) return;
      stands.at(-1)!.to = life.home[person][i]!.to + between(chance, 20, 90) * SECOND;
      stands.push({ from: wholeSecond(from - between(chance, 15, 50) * SECOND), to: life.to });
    });
    return [BAY_OF[person], stands.filter(({ from, to }) => from < to)];
  });
  const bays: Record<string, Span[]> = Object.fromEntries(own);
  const months = (life.to - life.from) / (31 * DAY);
  for (const at of instantsEvenly(chance, life.from, life.to, visitorsAMonth * months).map(wholeSecond)) {
    const leaves = wholeSecond(at + between(chance, 0.4, 2) * HOUR);
    const free = BAYS.find((bay) => bays[bay]!.every(({ from, to }) => to < at - 5 * MINUTE || from > leaves + 15 * MINUTE));
    if (free !== undefined) bays[free] = [...bays[free]!, { from: at, to: leaves }].sort((a, b) => a.from - b.from);
  }
  return bays;
}

/** Instants of false reports over the world. */
function timesOf(chance: Chance, span: Span, aMonth: number, times: Faults["times"]): number[] {
  const expected = (aMonth * (span.to - span.from)) / (31 * DAY);
  if (times === "clumps") {
    return instantsEvenly(chance, span.from, span.to, expected / 5.5).flatMap((start) => Array.from({ length: 4 + Math.floor(chance() * 4) }, () => start + between(chance, 0, 4) * HOUR));
  }
  const all = instantsEvenly(chance, span.from, span.to, expected);
  if (times === "even") return all;
  const [from, to] = times === "hours" ? [17, 19] : [0, 5];
  return all.map((at) => (chance() < 0.7 ? Math.floor(at / DAY) * DAY + between(chance, from, to) * HOUR : at));
}

function inside(span: Span, at: number): boolean {
  return at > span.from + HOUR && at < span.to - HOUR;
}

/** Meters lose the vehicle in front of them for a moment: only while one stands there. */
function withMeterFaults(world: World, chance: Chance, bays: Bays, { times, turnsAgain }: Faults): World {
  const drops = timesOf(chance, world, METER_FAULTS, times).map((at) => ({ bay: oneOf(chance, BAYS), at }));
  const again = BAYS.flatMap((bay) => bays[bay]!.filter(({ from, to }) => from > world.from && to - from > HOUR / 2 && chance() < turnsAgain).map(({ from }) => ({ bay, at: from + between(chance, 200, 540) * SECOND })));
  let now = world;
  for (const { bay, at } of [...drops, ...again]) {
    const gone = between(chance, 20, 60) * SECOND;
    const stands = bays[bay]!.some(({ from, to }) => from + 2 * MINUTE < at - gone && at < to - MINUTE);
    if (stands && inside(world, at)) now = withSaying(now, [`meter-${bay}`], { from: at - gone, to: at }, 0);
  }
  return now;
}

/** Phones lose their network at home and find it again, and are now and then heard while their owner is out. */
function withPhoneFaults(world: World, chance: Chance, life: HouseholdLife, { times }: Faults): World {
  const arrivals = comings(life);
  let now = world;
  const away = timesOf(chance, world, PHONE_FAULTS_HOME, times).map((at) => ({ at, says: 0 as const, lasts: between(chance, 2, 6) * MINUTE }));
  const here = timesOf(chance, world, PHONE_FAULTS_OUT, times).map((at) => ({ at, says: 1 as const, lasts: between(chance, 1, 4) * MINUTE }));
  for (const { at, says, lasts } of [...away, ...here]) {
    const person = oneOf(chance, PEOPLE);
    // What is heard of a phone around its owner's own coming and going is part of its lag.
    const busy = arrivals.some((one) => one.person === person && Math.abs(one.at - at) < 15 * MINUTE) || life.home[person].some(({ to }) => Math.abs(to - at) < 15 * MINUTE);
    if (busy || !inside(world, at) || isHome(life, person, at) !== (says === 0)) continue;
    now = withSaying(now, [`phone-${person}`], { from: at - lasts, to: at }, says);
  }
  return now;
}
