/** Faults that fool or escape those who should tell. */
import { evenly } from "./fault-times.js";
import { ALL_LEFT, ARRIVAL, changed, notesOf, withSaying } from "./household.js";
import { isHome, PEOPLE } from "./household-life.js";
import type { Mechanism } from "./mechanism.js";
import { copied, falselyArriving, falselyPassing, FULL_DIARY, OFTEN, ONE_OUTSIDE, TWO_A_BAY, TWO_OUTSIDE, whoIsOut } from "./parts.js";
import { between, type Chance } from "./random.js";
import { following, overlaid } from "./steps.js";
import { DAY, HOUR, MINUTE, SECOND, type Note, type World } from "./world.js";
import { BAYS } from "./yard.js";

const hourOf = (at: number): number => new Date(at).getUTCHours();
const atNight = (at: number): boolean => hourOf(at) >= 23 || hourOf(at) < 6;

export const witnessMechanisms: readonly Mechanism[] = [
  {
    id: "same-hub-declared",
    name: "the one outside witness on the phone's hub, declared",
    truly: "The hub takes a phone and its tag for come, evenly spread, as a parcel comes. The site file says that both hang on it.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyArriving(chance, span, view, view.faulty ? { ...ONE_OUTSIDE, cause: { phone: "hub", tag: "hub" } } : TWO_OUTSIDE, { devices: ["phone", "tag"] }).world,
  },
  {
    id: "same-hub-undeclared",
    name: "the one outside witness on the phone's hub, undeclared",
    truly: "As before, but the site file does not say so; phone and tag always turn in the same second.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, view.faulty ? ONE_OUTSIDE : TWO_OUTSIDE);
      return view.faulty ? PEOPLE.reduce((now, person) => copied(now, `phone-${person}`, `tag-${person}`), world) : world;
    },
  },
  {
    id: "twins",
    name: "two outside witnesses that are one, undeclared",
    truly: "Tag and lamp are read by one box that nobody declared: they turn in the same second and are wrong together, and so is the phone.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, TWO_OUTSIDE, { devices: ["phone", "tag"] });
      return view.faulty ? PEOPLE.reduce((now, person) => copied(now, `tag-${person}`, `lamp-${person}`), world) : world;
    },
  },
  {
    id: "follows-the-rule",
    name: "the one outside witness follows the rule",
    truly: "A lamp is switched on by the unlocking itself: it says here some seconds after every firing, right or wrong.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyArriving(chance, span, view, view.faulty ? { outside: ["lamp"], diary: false } : TWO_OUTSIDE, { devices: ["phone", "lamp"] }).world,
  },
  {
    id: "silent-phone",
    name: "a phone silent for 28 of 31 days",
    truly: "Phones are fooled half of the time, watches the other half; in the month seen both phones say nothing for 28 days, and the watches serve. Two sensors a person outside the rule.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, { ...TWO_OUTSIDE, watches: true }, { drawn: (some) => [some() < 0.5 ? "phone" : "watch"] });
      const rule = { ...ARRIVAL, parts: [{ form: "turned" as const, anyOf: PEOPLE.flatMap((person) => [`phone-${person}`, `watch-${person}`]), withinMs: 2 * MINUTE }, ARRIVAL.parts[1]!] };
      return { ...(view.faulty && view.seen ? withSaying(world, PEOPLE.map((person) => `phone-${person}`), { from: span.from + 2 * DAY, to: span.from + 30 * DAY }, 2) : world), rule };
    },
  },
  {
    id: "outage-first",
    name: "a period that begins in an outage",
    truly: "All that the rule listens to is dark for the first ten days seen; faults spread evenly. Two sensors a person outside the rule.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, TWO_OUTSIDE);
      return view.faulty && view.seen ? withSaying(world, [...PEOPLE.map((person) => `phone-${person}`), "gate-contact"], { from: span.from, to: span.from + 10 * DAY }, 2) : world;
    },
  },
  {
    id: "asleep-wrong",
    name: "witnesses asleep at night, faults at night",
    truly: "False arrivals come at night only; both sensors outside the rule say nothing from eleven to six.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, TWO_OUTSIDE, { times: (some) => evenly(some, span, 3 * OFTEN), fits: atNight });
      return view.faulty && view.seen ? asleep(world) : world;
    },
  },
  {
    id: "visitors",
    name: "visitors' vehicles",
    truly: "Visitors stop half across a bay for an hour: the mat takes them for ours, the meter does not. Two sensors in each bay.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) =>
      falselyPassing(chance, span, view, TWO_A_BAY, undefined, (world, at) => {
        const end = at + HOUR;
        const free = BAYS.find((bay) => !world.subjects.find(({ id }) => id === bay)!.on.some(({ from, to }) => from < end + 20 * MINUTE && to > at - 20 * MINUTE));
        return free === undefined ? world : withSaying(world, [`${free}-mat`], { from: at + 45 * SECOND, to: end }, 1);
      }).world,
  },
  {
    id: "lent-phone",
    name: "a phone lent to a guest",
    truly: "A guest comes with the phone and the key tag of somebody who is out. The lamp is not fooled.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyArriving(chance, span, view, TWO_OUTSIDE, { times: (some) => evenly(some, span, 4 * OFTEN), who: whoIsOut, devices: ["phone", "tag"] }).world,
  },
  {
    id: "diary-mistakes",
    name: "a diary with mistakes in one line of twenty",
    truly: "Faults spread evenly; one line of twenty of the diary, the only witness, has the wrong state.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, FULL_DIARY);
      return view.faulty ? { ...world, diary: world.diary.map((note) => (chance() < 0.05 ? { ...note, on: !note.on } : note)) } : world;
    },
  },
  {
    id: "diary-copied",
    name: "a diary copied from the phone",
    truly: "Whoever keeps the diary writes down what the phone showed, false arrivals too. There is no other witness.",
    breaks: "wrong",
    mild: true,
    unshowable: true,
    build: (chance, span, view) => {
      const { world } = falselyArriving(chance, span, view, FULL_DIARY);
      return view.faulty ? { ...world, diary: PEOPLE.flatMap((person) => notesFrom(world, person)) } : world;
    },
  },
  {
    id: "lock-on-somebody",
    name: "a locking rule, one stays inside with a flat phone",
    truly: "When one has gone, the phone of the other, at home, says away for an hour: the house is locked on somebody. Two sensors a person outside the rule.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => lockedIn(chance, span, view.faulty),
  },
  {
    id: "lock-one-contact",
    name: "a locking rule, a gate with one contact",
    truly: "The gate stays open after somebody has left and its only contact says closed. The diary of people and gate is complete.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => gateLeftOpen(chance, span, view.faulty),
  },
];

function asleep(world: World): World {
  let now = world;
  const ids = world.sensors.filter(({ source }) => source === "tags" || source === "lamps").map(({ id }) => id);
  for (let day = world.from; day < world.to; day += DAY) now = withSaying(now, ids, { from: day + 23 * HOUR, to: Math.min(day + 30 * HOUR, world.to) }, 2);
  return now;
}

/** The diary as somebody keeps it who looks at the phone. */
function notesFrom(world: World, person: string): Note[] {
  const { steps } = world.sensors.find(({ id }) => id === `phone-${person}`)!;
  return steps.map(({ at, says }, i) => ({ subject: person, on: says === 1, from: at, to: steps[i + 1]?.at ?? world.to }));
}

function lockedIn(chance: Chance, span: { from: number; to: number }, faulty: boolean): World {
  const { world, life } = falselyArriving(chance, span, { faulty: false, seen: true, month: 0 }, TWO_OUTSIDE);
  let now: World = { ...world, rule: ALL_LEFT };
  if (!faulty) return now;
  for (const [gone, inside] of [PEOPLE, [PEOPLE[1], PEOPLE[0]]] as const) {
    for (const [i, { to }] of life.home[gone].slice(0, -1).entries()) {
      const flat = { from: to + 20 * MINUTE, to: to + 80 * MINUTE };
      const stillOut = life.home[gone][i + 1]!.from > flat.to + 15 * MINUTE;
      const alone = stillOut && life.home[inside].some((home) => home.from < flat.from - 30 * MINUTE && home.to > flat.to + 15 * MINUTE);
      if (alone && chance() < 0.6) now = withSaying(now, [`phone-${inside}`], flat, 0);
    }
  }
  return now;
}

function gateLeftOpen(chance: Chance, span: { from: number; to: number }, faulty: boolean): World {
  const { world, life } = falselyArriving(chance, span, { faulty: false, seen: true, month: 0 }, FULL_DIARY);
  const gate = [...life.gate];
  if (faulty) {
    for (const [i, { to }] of life.gate.entries()) {
      // Left open when the last one has gone, until the next one comes.
      if (PEOPLE.some((person) => isHome(life, person, to + 2 * MINUTE)) || chance() > 0.35) continue;
      gate[i] = { from: gate[i]!.from, to: Math.min(life.gate[i + 1]?.from ?? span.to, to + between(chance, 20, 60) * MINUTE) };
    }
  }
  const subjects = world.subjects.map((subject) => (subject.id === "gate" ? { ...subject, on: gate } : subject));
  const now: World = { ...world, subjects, rule: { ...ALL_LEFT, right: { form: "all off", subjects: [...PEOPLE, "gate"] } } };
  // The contact goes on saying what it would have said of a gate that closed by itself.
  const jammed = changed(now, "gate-contact", () => overlaid(following(span, life.gate, () => SECOND), { from: span.from, to: span.from + SECOND }, 0));
  return { ...jammed, diary: notesOf(jammed, [...PEOPLE, "gate"]) };
}
