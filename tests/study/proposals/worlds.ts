/** Households of the independent generator whose rule is bad for a known reason, or good. */
import { ARRIVAL, changed, household, notesOf, withSaying } from "../verdict/household.js";
import { householdLife, isHome } from "../verdict/household-life.js";
import { awayFromComings, evenly } from "../verdict/fault-times.js";
import { FULL_DIARY, later, TWO_OUTSIDE } from "../verdict/parts.js";
import { between, chanceNamed, oneOf } from "../verdict/random.js";
import { MINUTE, type Rule, type Span, type World } from "../verdict/world.js";

/** Limits wide enough for a phone that tells late. */
export const LIMITS = { wrongPerYear: 5, missedShare: 0.1, withinMs: 10 * MINUTE };

const people = ["ana", "ben"] as const;

/** The diary of everything, so that the program's figures are the truth. */
export function known(world: World): World {
  return { ...world, diary: notesOf(world, people) };
}

/** Nothing is wrong with the rule. */
export function sound(name: string, span: Span): World {
  const chance = chanceNamed(name);
  return household(chance, householdLife(chance, span), TWO_OUTSIDE);
}

/** The same where only the diary knows besides the rule: there is no other device to listen to. */
function soundWithDiary(name: string, span: Span): World {
  const chance = chanceNamed(name);
  return household(chance, householdLife(chance, span), FULL_DIARY);
}

/** One phone tells of its person four to seven minutes late, and the rule forgets the gate after two. */
export function slowPhone(name: string, span: Span): World {
  const world = soundWithDiary(name, span);
  const chance = chanceNamed(`${name}/slow`);
  return changed(world, "phone-ben", (steps) => later(steps, between(chance, 4, 7) * MINUTE, 0, world.to));
}

/** The rule listens to the phone of one of the two. */
export function onePhone(name: string, span: Span): World {
  const world = sound(name, span);
  return { ...world, rule: { ...ARRIVAL, parts: [{ form: "turned", anyOf: ["phone-ana"], withinMs: 2 * MINUTE }, ...ARRIVAL.parts.slice(1)] } };
}

/** The rule believes any phone, and phones are heard again some twenty times a month without anybody coming. */
export function anyPhone(name: string, span: Span): World {
  const chance = chanceNamed(name);
  const life = householdLife(chance, span);
  const rule: Rule = { ...ARRIVAL, parts: ARRIVAL.parts.slice(0, 1) };
  const falsely = awayFromComings(evenly(chance, span, 24), life);
  const faulty = falsely.reduce((world, at) => {
    const person = oneOf(chance, people);
    const home = isHome(life, person, at);
    return withSaying(world, [`phone-${person}`], home ? { from: at - 6 * MINUTE, to: at } : { from: at, to: at + 6 * MINUTE }, home ? 0 : 1);
  }, household(chance, life, TWO_OUTSIDE));
  return { ...faulty, rule };
}

/** Phones alone: there is nothing else to listen to. */
export function phonesAlone(name: string, span: Span): World {
  const world = anyPhone(name, span);
  return { ...world, subjects: world.subjects.filter(({ id }) => id !== "gate"), sensors: world.sensors.filter(({ id }) => id.startsWith("phone")) };
}

/** A sound rule, and each of its sensors now and then does not tell of an arrival: chance alone decides which rule does better. */
export function mishaps(name: string, span: Span): World {
  const world = sound(name, span);
  const chance = chanceNamed(`${name}/mishaps`);
  return world.sensors.reduce((now, { id, steps }) => {
    const overseen = steps.filter(({ says }, i) => i > 0 && says === 1 && chance() < 0.03);
    return overseen.reduce((one, { at }) => withSaying(one, [id], { from: at, to: (steps.find((step) => step.at > at)?.at ?? one.to) }, 0), now);
  }, world);
}
