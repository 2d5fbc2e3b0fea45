/**
 * A household of two: a phone each and a gate contact, to which the rule listens, and outside the rule a key tag and a
 * bedside lamp's button each, as far as they take part.
 */
import { comings, isHome, PEOPLE, type HouseholdLife, type Person } from "./household-life.js";
import { between, type Chance } from "./random.js";
import { following, overlaid } from "./steps.js";
import { HOUR, MINUTE, SECOND, type Note, type Part, type Rule, type Sensor, type Span, type Subject, type World } from "./world.js";

/** Who tells the truth besides the rule. */
export interface HouseholdSetting {
  /** Sensors outside the rule, one of each sort a person. */
  readonly outside: readonly ("tag" | "lamp")[];
  readonly diary: boolean;
  /** A second device of each person that the rule listens to as well. */
  readonly watches?: boolean;
  /** The cause that a sort of sensor declares; by default each sort has one of its own. */
  readonly cause?: Readonly<Record<string, string>>;
}

/** Chance that a sensor outside the rule does not see a visit. */
const OVERSEEN = 0.01;

/** The rule of most households: a phone has just come, and the gate was just opened. */
export const ARRIVAL: Rule = ruleOn("unlock on arrival", PEOPLE.map((person) => `phone-${person}`));

/** The rule for other devices than the phones. */
export function ruleOn(name: string, devices: readonly string[]): Rule {
  return {
    name,
    act: "unlock",
    parts: [
      { form: "turned", anyOf: devices, withinMs: 2 * MINUTE },
      { form: "turned", anyOf: ["gate-contact"], withinMs: 2 * MINUTE },
    ],
    restMs: 5 * MINUTE,
    right: { form: "came", subjects: PEOPLE, withinMs: 15 * MINUTE },
  };
}

/** Locks when both phones have been away for a while and the gate has been closed for a minute: it moves for whoever comes, before the phone is heard. */
export const ALL_LEFT: Rule = {
  name: "lock when all have left",
  act: "lock",
  parts: [...PEOPLE.map((person): Part => ({ form: "is", sensor: `phone-${person}`, says: 0, heldMs: 5 * MINUTE })), { form: "is", sensor: "gate-contact", says: 0, heldMs: MINUTE }],
  restMs: 5 * MINUTE,
  right: { form: "all off", subjects: PEOPLE },
};

/** The household without a fault. */
export function household(chance: Chance, life: HouseholdLife, setting: HouseholdSetting): World {
  const sensors: Sensor[] = [];
  const add = (sort: string, person: Person, lagOn: readonly [number, number], lagOff: readonly [number, number], overseen: number, everyMs: number): void => {
    const lag = (to: 0 | 1): number => between(chance, ...(to === 1 ? lagOn : lagOff)) * SECOND;
    const steps = following(life, life.home[person], lag, ({ from }) => from > life.from && chance() < overseen);
    sensors.push({ id: `${sort}-${person}`, on: person, source: `${sort}s`, kind: sort === "phone" ? "phone" : "flag", shares: [setting.cause?.[sort] ?? `${sort}-link`], everyMs, steps });
  };
  for (const person of PEOPLE) {
    add("phone", person, [5, 40], [20, 120], 0, 30 * MINUTE);
    if (setting.watches === true) add("watch", person, [5, 40], [20, 120], 0, 30 * MINUTE);
    if (setting.outside.includes("tag")) add("tag", person, [4, 50], [10, 90], OVERSEEN, HOUR);
    if (setting.outside.includes("lamp")) add("lamp", person, [10, 80], [10, 90], OVERSEEN, HOUR);
  }
  sensors.push({ id: "gate-contact", on: "gate", source: "gate", kind: "contact", shares: ["gate-board"], everyMs: HOUR, steps: following(life, life.gate, () => between(chance, 0, 2) * SECOND) });
  const subjects: Subject[] = [{ id: "gate", class: "door", on: life.gate }, ...PEOPLE.map((id): Subject => ({ id, class: "person", on: life.home[id] }))];
  const world: World = { from: life.from, to: life.to, place: "household", subjects, sensors, diary: [], rule: ARRIVAL, tried: [], exporting: { overlapping: false, hoursOff: {} } };
  return setting.diary ? { ...world, diary: notesOf(world, PEOPLE) } : world;
}

/** The truth of some subjects, written down without a gap. */
export function notesOf(world: Pick<World, "from" | "to" | "subjects">, subjects: readonly string[]): Note[] {
  return subjects.flatMap((subject) => {
    const on = world.subjects.find(({ id }) => id === subject)!.on;
    const edges = [world.from, ...on.flatMap(({ from, to }) => [from, to]), world.to];
    return edges.flatMap((from, i) => (from < (edges[i + 1] ?? 0) ? [{ subject, on: i % 2 === 1, from, to: edges[i + 1]! }] : []));
  });
}

/** The world with what one of its sensors says replaced by what `change` makes of it. */
export function changed(world: World, id: string, change: (steps: Sensor["steps"]) => Sensor["steps"]): World {
  return { ...world, sensors: world.sensors.map((sensor) => (sensor.id === id ? { ...sensor, steps: change(sensor.steps) } : sensor)) };
}

/** The world with a stretch of some sensors overlaid: see {@link overlaid}. */
export function withSaying(world: World, ids: readonly string[], stretch: Span, says: 0 | 1 | 2): World {
  return ids.reduce((now, id) => changed(now, id, (steps) => overlaid(steps, stretch, says)), world);
}

/**
 * Somebody opens the gate (a parcel) just as devices of a person lose their network and find it again, or are heard where they are not:
 * the rule fires and nobody came. The devices turn `here` at `at`, each some seconds apart unless `together`.
 */
export function withFalseArrival(world: World, life: HouseholdLife, chance: Chance, at: number, person: Person, devices: readonly string[], together = false): World {
  let now = withSaying(world, ["gate-contact"], { from: at + 10 * SECOND, to: at + between(chance, 40, 70) * SECOND }, 1);
  for (const device of devices) {
    const turn = at + (together ? 0 : between(chance, 0, 9) * SECOND);
    const stretch = isHome(life, person, at) ? { from: turn - 6 * MINUTE, to: turn } : { from: turn, to: turn + 6 * MINUTE };
    now = withSaying(now, [`${device}-${person}`], stretch, isHome(life, person, at) ? 0 : 1);
  }
  return now;
}

/** Each arrival in turn, changed with the given chance. */
export function atArrivals(world: World, life: HouseholdLife, change: (now: World, person: Person, at: number, home: Span, index: number) => World): World {
  return comings(life).reduce((now, { person, at }, index) => change(now, person, at, life.home[person].find(({ from }) => from === at)!, index), world);
}
