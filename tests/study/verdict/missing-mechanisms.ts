/** Arrivals at which the rule acts late or not at all; and fine rules of which the history says so. */
import { evenly } from "./fault-times.js";
import { ARRIVAL, atArrivals, changed, household, ruleOn, withSaying } from "./household.js";
import { householdLife, PEOPLE } from "./household-life.js";
import type { Mechanism } from "./mechanism.js";
import { FULL_DIARY, LATE, later, ONE_OUTSIDE, TWO_A_BAY, TWO_OUTSIDE } from "./parts.js";
import { between, type Chance } from "./random.js";
import { overlaid, saidAt, wholeSecond } from "./steps.js";
import { DAY, HOUR, MINUTE, SECOND, type Span, type World } from "./world.js";
import { yard, yardLife } from "./yard.js";

const POLL = 5 * MINUTE;
const LOOKS = 12;
/** So late that it is too late, and little enough that a poll may hide it. */
const SLOW = 3 * MINUTE;

export const missingMechanisms: readonly Mechanism[] = [
  {
    id: "late-yard",
    name: "every unlock nine minutes late, yard",
    truly: "Loop and beam are heard nine minutes late, each over a slow link of its own. Two sensors in each bay.",
    breaks: "missed",
    mild: false,
    build: (chance, span, { faulty }) => {
      const world = yard(chance, yardLife(chance, span), TWO_A_BAY);
      return faulty ? ["lane-loop", "lane-beam"].reduce((now, id) => changed(now, id, (steps) => later(steps, LATE, LATE, span.to)), world) : world;
    },
  },
  {
    id: "late-household",
    name: "every unlock nine minutes late, household",
    truly: "Phones and gate are heard nine minutes late. The diary is complete.",
    breaks: "missed",
    mild: false,
    build: (chance, span, { faulty }) => {
      const world = household(chance, householdLife(chance, span), FULL_DIARY);
      return faulty ? [...PEOPLE.map((person) => `phone-${person}`), "gate-contact"].reduce((now, id) => changed(now, id, (steps) => later(steps, LATE, LATE, span.to)), world) : world;
    },
  },
  {
    id: "flat-silent",
    name: "a phone flat on every second arrival, silent",
    truly: "On every second arrival the phone has been silent for an hour and stays so for two. One sensor a person outside the rule.",
    breaks: "missed",
    mild: false,
    build: (chance, span, view) => flat(chance, span, view.faulty ? ONE_OUTSIDE : TWO_OUTSIDE, view.faulty, (now, id, at) => withSaying(now, [id], { from: at - HOUR, to: at + 2 * HOUR }, 2)),
  },
  {
    id: "flat-alone",
    name: "a phone flat on every second arrival, nobody else tells",
    truly: "As before; and the diary, the only witness, is left out around those arrivals.",
    breaks: "missed",
    mild: false,
    build: (chance, span, { faulty }) => {
      const world = flat(chance, span, FULL_DIARY, faulty, (now, id, at) => withSaying(now, [id], { from: at - HOUR, to: at + 2 * HOUR }, 2));
      const heard = ({ subject, on, from, to }: World["diary"][number]): boolean => saidAt(world.sensors.find(({ id }) => id === `phone-${subject}`)!.steps, on ? from : to - SECOND) !== 2;
      return { ...world, diary: world.diary.filter(heard) };
    },
  },
  {
    id: "flat-away",
    name: "a phone flat on every second arrival, said to be away",
    truly: "On every second arrival the phone is said to be away for the whole stay. Two sensors a person outside the rule.",
    breaks: "missed",
    mild: false,
    build: (chance, span, { faulty }) => flat(chance, span, TWO_OUTSIDE, faulty, (now, id, at, home) => withSaying(now, [id], { from: at - MINUTE, to: home.to + 3 * MINUTE }, 0)),
  },
  {
    id: "charged-late",
    name: "a phone flat on every fourth arrival, heard once charged",
    truly: "On every fourth arrival phone and gate are heard four to twelve minutes after. The diary is complete.",
    breaks: "missed",
    mild: true,
    build: (chance, span, { faulty }) => {
      const life = householdLife(chance, span);
      const world = household(chance, life, FULL_DIARY);
      return faulty
        ? atArrivals(world, life, (now, person, at, _home, index) => {
            if (index % 4 !== 0) return now;
            const charged = at + between(chance, 4, 12) * MINUTE;
            // Whoever has charged the phone goes out for the post, and the door opens then.
            return withSaying(withSaying(now, [`phone-${person}`], { from: at - MINUTE, to: charged }, 0), ["gate-contact"], { from: charged + 20 * SECOND, to: charged + MINUTE }, 1);
          })
        : world;
    },
  },
  {
    id: "monthly-looks-missed",
    name: "twelve monthly looks at a rule that misses as many as its limit",
    truly: "The phone is said to be away on one stay in six, exactly the limit; cleared if one of twelve monthly audits with all earlier results clears it. The diary is complete.",
    breaks: "missed",
    mild: false,
    over: 1,
    looks: LOOKS,
    build: (chance, span, { faulty }) => {
      const life = householdLife(chance, span);
      const world = household(chance, life, FULL_DIARY);
      return faulty ? atArrivals(world, life, (now, person, at, home) => (chance() < 1 / 6 ? withSaying(now, [`phone-${person}`], { from: at - MINUTE, to: home.to + 3 * MINUTE }, 0) : now)) : world;
    },
  },
  {
    id: "sticking",
    name: "a sensor that sticks for days",
    truly: "The gate contact stays as it is for one to four days, three times a month. Two sensors a person outside the rule.",
    breaks: "missed",
    mild: true,
    build: (chance, span, { faulty }) => sticking(chance, span, faulty),
  },
  {
    id: "asleep-missed",
    name: "witnesses asleep at night, arrivals missed at night",
    truly: "Somebody comes home after midnight on most days, with a flat phone; both sensors outside the rule say nothing from eleven to six.",
    breaks: "missed",
    mild: true,
    build: (chance, span, { faulty, seen }) => {
      const life = householdLife(chance, span, { late: 0.8 });
      let world = household(chance, life, TWO_OUTSIDE);
      if (!faulty) return world;
      world = atArrivals(world, life, (now, person, at) => (new Date(at).getUTCHours() < 6 ? withSaying(now, [`phone-${person}`], { from: at - 2.5 * HOUR, to: at + 3 * HOUR }, 2) : now));
      if (!seen) return world;
      const ids = PEOPLE.flatMap((person) => [`tag-${person}`, `lamp-${person}`]);
      for (let day = span.from; day < span.to; day += DAY) world = withSaying(world, ids, { from: day + 23 * HOUR, to: Math.min(span.to, day + 30 * HOUR) }, 2);
      return world;
    },
  },
  {
    id: "partner-alone",
    name: "a partner who comes alone",
    truly: "The rule listens to one phone of two; the other person comes as often. One sensor a person outside the rule.",
    breaks: "missed",
    mild: false,
    build: (chance, span, { faulty }) => {
      const world = household(chance, householdLife(chance, span), faulty ? ONE_OUTSIDE : TWO_OUTSIDE);
      return faulty ? { ...world, rule: ruleOn("unlock on arrival", ["phone-ana"]) } : world;
    },
  },
  {
    id: "polled-witnesses",
    name: "a late rule and witnesses read every five minutes",
    truly: "The rule acts three minutes late; tags and lamps are read by one box every five minutes and stamped then, so that it seems in time. Nobody declared the box.",
    breaks: "missed",
    mild: false,
    build: (chance, span, { faulty }) => {
      const world = household(chance, householdLife(chance, span), TWO_OUTSIDE);
      if (!faulty) return world;
      const slow = [...PEOPLE.map((person) => `phone-${person}`), "gate-contact"].reduce((now, id) => changed(now, id, (steps) => later(steps, SLOW, SLOW, span.to)), world);
      return PEOPLE.flatMap((person) => [`tag-${person}`, `lamp-${person}`]).reduce((now, id) => changed(now, id, (steps) => steps.map((step, i) => (i === 0 ? step : { ...step, at: Math.ceil(step.at / POLL) * POLL })).filter(({ at }) => at < span.to)), slow);
    },
  },
  {
    id: "power-cuts",
    name: "power cuts that hide an arrival from everybody",
    truly: "On one arrival in four the power is out from an hour before to two hours after: phones, tags and lamps say nothing, and then that somebody is here.",
    breaks: "missed",
    mild: true,
    build: (chance, span, { faulty, seen }) => {
      const life = householdLife(chance, span);
      const world = household(chance, life, TWO_OUTSIDE);
      if (!faulty) return world;
      const dark = (sorts: readonly string[]): readonly string[] => world.sensors.filter(({ id, on }) => on !== "gate" && sorts.some((sort) => id.startsWith(sort))).map(({ id }) => id);
      const ids = dark(seen ? ["phone", "tag", "lamp"] : ["phone"]);
      return atArrivals(world, life, (now, _person, at) => (chance() < 0.25 ? withSaying(now, ids, { from: at - HOUR, to: at + 2 * HOUR }, 2) : now));
    },
  },
  {
    id: "unseen-way",
    name: "arrivals by a way that no sensor watches",
    truly: "On three arrivals in ten somebody comes through the garden without phone or tag and puts on no lamp: no sensor says so for the whole stay.",
    breaks: "missed",
    mild: true,
    unshowable: true,
    build: (chance, span, { faulty }) => {
      const life = householdLife(chance, span);
      const world = household(chance, life, TWO_OUTSIDE);
      if (!faulty) return world;
      return atArrivals(world, life, (now, person, at, home) => (chance() < 0.3 ? withSaying(now, ["phone", "tag", "lamp"].map((sort) => `${sort}-${person}`), { from: at - MINUTE, to: home.to + 3 * MINUTE }, 0) : now));
    },
  },
  {
    id: "wrong-zone-rule",
    name: "a wrong time zone of the rule's sources, rule fine",
    truly: "Phones and gate are stamped one hour off against tags and lamps, and the site file does not say so. The rule has no fault.",
    breaks: null,
    mild: true,
    build: (chance, span, { seen }) => zoned(household(chance, householdLife(chance, span), TWO_OUTSIDE), seen, { phones: 1, gate: 1 }),
  },
  {
    id: "wrong-zone-witness",
    name: "a wrong time zone of one witness, rule fine",
    truly: "The tags are stamped two hours off against everything else. The rule has no fault.",
    breaks: null,
    mild: true,
    build: (chance, span, { seen }) => zoned(household(chance, householdLife(chance, span), TWO_OUTSIDE), seen, { tags: -2 }),
  },
  {
    id: "drifting-clock",
    name: "a clock that drifts, rule fine",
    truly: "The stamps of both phones lose forty seconds a day against everything else. The rule has no fault.",
    breaks: null,
    mild: true,
    build: (chance, span, { seen }) => {
      const world = household(chance, householdLife(chance, span), TWO_OUTSIDE);
      return seen ? PEOPLE.reduce((now, person) => changed(now, `phone-${person}`, (steps) => steps.map(({ at, says }, i) => ({ at: i === 0 ? at : wholeSecond(at + ((at - span.from) / DAY) * 40 * SECOND), says })).filter(({ at }) => at < span.to)), world) : world;
    },
  },
];

function flat(chance: Chance, span: Span, setting: typeof TWO_OUTSIDE, faulty: boolean, quieten: (now: World, id: string, at: number, home: Span) => World): World {
  const life = householdLife(chance, span);
  const world = { ...household(chance, life, setting), rule: ARRIVAL };
  return faulty ? atArrivals(world, life, (now, person, at, home, index) => (index % 2 === 0 ? quieten(now, `phone-${person}`, at, home) : now)) : world;
}

function sticking(chance: Chance, span: Span, faulty: boolean): World {
  const world = household(chance, householdLife(chance, span), TWO_OUTSIDE);
  if (!faulty) return world;
  const starts = evenly(chance, span, 3);
  return starts.reduce((now, from) => changed(now, "gate-contact", (steps) => overlaid(steps, { from, to: Math.min(span.to, from + between(chance, 1, 4) * DAY) }, saidAt(steps, from))), world);
}

function zoned(world: World, seen: boolean, hoursOff: Record<string, number>): World {
  return seen ? { ...world, exporting: { overlapping: false, hoursOff } } : world;
}
