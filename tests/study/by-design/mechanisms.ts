/** The mechanisms of the study of verdicts, as far as they can befall a household that drives in. */
import { evenly, inClumps } from "../verdict/fault-times.js";
import { atArrivals, changed, withSaying } from "../verdict/household.js";
import { isHome, PEOPLE } from "../verdict/household-life.js";
import type { Mechanism } from "../verdict/mechanism.js";
import { copied, LATE, later, OFTEN, whoIsOut } from "../verdict/parts.js";
import { between } from "../verdict/random.js";
import { overlaid, saidAt } from "../verdict/steps.js";
import { DAY, HOUR, MINUTE, SECOND, type Note, type World } from "../verdict/world.js";
import { BAYS } from "../evidence/household.js";
import { falselyDrivingIn, FULL_DIARY, ofSorts, ONE_OUTSIDE, sortOf, TWO_OUTSIDE } from "./drive-in.js";

const hourOf = (at: number): number => new Date(at).getUTCHours();
const atNight = (at: number): boolean => hourOf(at) >= 23 || hourOf(at) < 6;
const BAD_MONTHS = [6, 7, 8];
const POLL = 5 * MINUTE;

type Draft = Omit<Mechanism, "mild" | "truly"> & { readonly truly: string };

const drafts: readonly Draft[] = [
  {
    id: "even",
    name: "faults spread evenly",
    truly: "A meter loses a vehicle and a phone its network, and both find it again at once. Two sensors outside the rule for each bay and person.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, TWO_OUTSIDE).world,
  },
  {
    id: "even-diary",
    name: "faults spread evenly, a complete diary",
    truly: "The same; no sensor outside the rule, but a complete diary.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, FULL_DIARY).world,
  },
  {
    id: "season",
    name: "all faults in one season",
    truly: "Such faults come in three months of the year only; those seen are others.",
    breaks: "wrong",
    unshowable: true,
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, TWO_OUTSIDE, { times: (some) => (!view.seen && BAD_MONTHS.includes(view.month % 12) ? evenly(some, span, 4 * OFTEN) : []) }).world,
  },
  {
    id: "clumps",
    name: "faults in clumps, three a month",
    truly: "Four to seven within four hours, three times a month.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, TWO_OUTSIDE, { times: (some) => inClumps(some, span, 4, 8) }).world,
  },
  {
    id: "clumps-rare",
    name: "faults in clumps, with weeks between",
    truly: "Four to seven within half a day, then none for about a month. The diary is complete.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, FULL_DIARY, { times: (some) => inClumps(some, span, 1, 12) }).world,
  },
  {
    id: "holidays",
    name: "a week of holidays",
    truly: "Nobody is home for seven of the days seen; the faults come while somebody is. The diary is complete.",
    breaks: "wrong",
    build: (chance, span, view) =>
      falselyDrivingIn(chance, span, view, FULL_DIARY, {
        times: (some) => evenly(some, span, 1.6 * OFTEN),
        who: (at, life) => PEOPLE.find((person) => isHome(life, person, at)) ?? null,
        plan: view.seen && view.faulty && view.month === 0 ? { holiday: { from: span.from + 9 * DAY, to: span.from + 16 * DAY + 17 * HOUR } } : {},
      }).world,
  },
  {
    id: "two-in-one",
    name: "two people in one vehicle",
    truly: "On six of ten trips both come together; faults spread evenly.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, TWO_OUTSIDE, { plan: { together: 0.6 } }).world,
  },
  {
    id: "repeated-exports",
    name: "exports that overlap and repeat",
    truly: "Faults spread evenly; weekly files that overlap by two days, and the first one twice.",
    breaks: "wrong",
    build: (chance, span, view) => ({ ...falselyDrivingIn(chance, span, view, TWO_OUTSIDE).world, exporting: { overlapping: true, hoursOff: {} } }),
  },
  {
    id: "begins-late",
    name: "faults that begin ten days before the end and stay",
    truly: "Nothing until ten days before the end of the last month seen, then as often as from then on always. The diary is complete.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, FULL_DIARY, { times: (some) => evenly(some, span, 1.5 * OFTEN).filter((at) => !view.seen || (view.month === MONTHS - 1 && at > span.to - 10 * DAY)) }).world,
  },
  {
    id: "same-hub-declared",
    name: "the outside witnesses on the rule's own boards, declared",
    truly: "One hub takes phone and tag, one board meter and mat, for come; both at once. The site file says what hangs on what, but not that hub and board share their power.",
    breaks: "wrong",
    build: (chance, span, view) =>
      falselyDrivingIn(chance, span, view, view.faulty ? { ...ONE_OUTSIDE, cause: { phone: "hub", tag: "hub", meter: "board", mat: "board" } } : TWO_OUTSIDE, { fooled: ["meter", "mat", "phone", "tag"] }).world,
  },
  {
    id: "same-hub-undeclared",
    name: "the outside witnesses on the rule's own boards, undeclared",
    truly: "The same, but the site file says nothing of it; phone and tag, and meter and mat, turn in the same second.",
    breaks: "wrong",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, view, view.faulty ? ONE_OUTSIDE : TWO_OUTSIDE);
      return view.faulty ? following(world, [["phone", "tag"], ["meter", "mat"]]) : world;
    },
  },
  {
    id: "twins",
    name: "two outside witnesses that are one, undeclared",
    truly: "Tag and lamp, and mat and eye, turn in the same second, and are wrong with the phone and the meter.",
    breaks: "wrong",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, view, TWO_OUTSIDE, { fooled: ["meter", "mat", "phone", "tag"] });
      return view.faulty ? following(world, [["tag", "lamp"], ["mat", "eye"]]) : world;
    },
  },
  {
    id: "follows-the-rule",
    name: "the one outside witness of each follows the rule",
    truly: "A lamp and an eye go on with the unlocking itself: they say here, and occupied, some seconds after every firing, right or wrong.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, view.faulty ? { outside: ["eye", "lamp"], diary: false } : TWO_OUTSIDE, { fooled: ["meter", "eye", "phone", "lamp"] }).world,
  },
  {
    id: "outage-first",
    name: "a period that begins in an outage",
    truly: "All that the rule listens to is dark for the first ten days of each month seen; faults spread evenly.",
    breaks: "wrong",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, view, TWO_OUTSIDE);
      return view.faulty && view.seen ? withSaying(world, ofSorts(world, ["meter", "phone"]), { from: span.from, to: span.from + 10 * DAY }, 2) : world;
    },
  },
  {
    id: "asleep-wrong",
    name: "witnesses asleep at night, faults at night",
    truly: "The faults come at night only; all sensors outside the rule say nothing from eleven to six.",
    breaks: "wrong",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, view, TWO_OUTSIDE, { times: (some) => evenly(some, span, 3 * OFTEN), fits: atNight });
      return view.faulty && view.seen ? asleep(world) : world;
    },
  },
  {
    id: "visitors",
    name: "visitors' vehicles",
    truly: "Faults spread evenly among visitors' vehicles three times as often as else; the mat, one of two sensors outside, takes each fault of a meter for a vehicle as well.",
    breaks: "wrong",
    build: (chance, span, view) => falselyDrivingIn(chance, span, view, TWO_OUTSIDE, { fooled: ["meter", "mat", "phone"], faults: { visitors: 60 } }).world,
  },
  {
    id: "lent-phone",
    name: "a phone lent to a guest",
    truly: "A guest drives in with the phone and the key tag of somebody who is out: a vehicle truly comes, and a person who is not the one. The lamp is not fooled.",
    breaks: "wrong",
    build: (chance, span, view) => {
      const { world, life } = falselyDrivingIn(chance, span, { ...view, faulty: false }, TWO_OUTSIDE, { faults: { visitors: 80 } });
      if (!view.faulty) return world;
      let now = world;
      for (const bay of BAYS) {
        for (const { from, to } of world.subjects.find(({ id }) => id === bay)!.on) {
          const person = whoIsOut(from, life, chance);
          const short = to - from < 2.1 * HOUR && from > span.from + HOUR && to < span.to - HOUR;
          const out = person !== null && short && !life.home[person].some((home) => home.from < to + 20 * MINUTE && home.to > from - 20 * MINUTE);
          if (out) for (const sort of ["phone", "tag"]) now = withSaying(now, [`${sort}-${person}`], { from: from + between(chance, 5, 40) * SECOND, to: to - MINUTE }, 1);
        }
      }
      return now;
    },
  },
  {
    id: "diary-mistakes",
    name: "a diary with mistakes in one line of twenty",
    truly: "Faults spread evenly; one line of twenty of the diary, the only witness, has the wrong state.",
    breaks: "wrong",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, view, FULL_DIARY);
      return view.faulty ? { ...world, diary: world.diary.map((note) => (chance() < 0.05 ? { ...note, on: !note.on } : note)) } : world;
    },
  },
  {
    id: "diary-copied",
    name: "a diary copied from the phones and meters",
    truly: "Whoever keeps the diary writes down what phones and meters showed, false reports too. There is no other witness.",
    breaks: "wrong",
    unshowable: true,
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, view, FULL_DIARY);
      return view.faulty ? { ...world, diary: ofSorts(world, ["meter", "phone"]).flatMap((id) => copiedNotes(world, id)) } : world;
    },
  },
  {
    id: "late",
    name: "every unlock eleven minutes late",
    truly: "Phones and meters are heard eleven minutes late. The diary is complete.",
    breaks: "missed",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, { ...view, faulty: false }, FULL_DIARY);
      return view.faulty ? ofSorts(world, ["phone", "meter"]).reduce((now, id) => changed(now, id, (steps) => later(steps, LATE + 2 * MINUTE, LATE + 2 * MINUTE, span.to)), world) : world;
    },
  },
  flatPhone("flat-silent", "a phone flat on every second arrival, silent", "On every second arrival the phone has been silent for an hour and stays so for two. One sensor outside the rule for each.", (now, id, at) => withSaying(now, [id], { from: at - HOUR, to: at + 2 * HOUR }, 2), ONE_OUTSIDE),
  flatPhone("flat-away", "a phone flat on every second arrival, said to be away", "On every second arrival the phone is said to be away for the whole stay.", (now, id, at, end) => withSaying(now, [id], { from: at - MINUTE, to: end + 3 * MINUTE }, 0)),
  {
    id: "sticking",
    name: "meters that stick for days",
    truly: "A meter stays as it is for one to four days, six times a month.",
    breaks: "missed",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, { ...view, faulty: false }, TWO_OUTSIDE);
      if (!view.faulty) return world;
      return evenly(chance, span, 6).reduce((now, from, i) => changed(now, `meter-${BAYS[i % 2]}`, (steps) => overlaid(steps, { from, to: Math.min(span.to, from + between(chance, 1, 4) * DAY) }, saidAt(steps, from))), world);
    },
  },
  {
    id: "asleep-missed",
    name: "witnesses asleep at night, arrivals missed at night",
    truly: "Somebody comes home after midnight on most days, with a flat phone; all sensors outside the rule say nothing from eleven to six.",
    breaks: "missed",
    build: (chance, span, view) => {
      const { world, life } = falselyDrivingIn(chance, span, { ...view, faulty: false }, TWO_OUTSIDE, { plan: { late: 0.8 } });
      if (!view.faulty) return world;
      const flat = atArrivals(world, life, (now, person, at) => (hourOf(at) < 6 ? withSaying(now, [`phone-${person}`], { from: at - 2.5 * HOUR, to: at + 3 * HOUR }, 2) : now));
      return view.seen ? asleep(flat) : flat;
    },
  },
  {
    id: "partner-alone",
    name: "a partner who comes alone",
    truly: "The rule listens to one phone of two; the other person comes as often. One sensor outside the rule for each.",
    breaks: "missed",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, { ...view, faulty: false }, view.faulty ? ONE_OUTSIDE : TWO_OUTSIDE);
      const [vehicles, people] = world.rule.parts;
      return view.faulty ? { ...world, rule: { ...world.rule, parts: [vehicles!, { ...people!, anyOf: ["phone-ana"] } as typeof people & object] } } : world;
    },
  },
  {
    id: "polled-witnesses",
    name: "a late rule and witnesses read every five minutes",
    truly: "The rule acts three minutes late; all sensors outside it are read by one box every five minutes and stamped then. Nobody declared the box.",
    breaks: "missed",
    build: (chance, span, view) => {
      const { world } = falselyDrivingIn(chance, span, { ...view, faulty: false }, TWO_OUTSIDE);
      if (!view.faulty) return world;
      const slow = ofSorts(world, ["phone", "meter"]).reduce((now, id) => changed(now, id, (steps) => later(steps, 3 * MINUTE, 3 * MINUTE, span.to)), world);
      return ofSorts(world, ["mat", "eye", "tag", "lamp"]).reduce((now, id) => changed(now, id, (steps) => steps.map((step, i) => (i === 0 ? step : { ...step, at: Math.ceil(step.at / POLL) * POLL })).filter(({ at }) => at < span.to)), slow);
    },
  },
  {
    id: "power-cuts",
    name: "power cuts that hide an arrival from everybody",
    truly: "On one arrival in four the power is out from an hour before to two hours after: phones, tags and lamps say nothing, and then that somebody is here.",
    breaks: "missed",
    build: (chance, span, view) => {
      const { world, life } = falselyDrivingIn(chance, span, { ...view, faulty: false }, TWO_OUTSIDE);
      const ids = ofSorts(world, view.seen ? ["phone", "tag", "lamp"] : ["phone"]);
      return view.faulty ? atArrivals(world, life, (now, _person, at) => (chance() < 0.25 ? withSaying(now, ids, { from: at - HOUR, to: at + 2 * HOUR }, 2) : now)) : world;
    },
  },
  {
    id: "unseen-way",
    name: "arrivals by a way that no sensor watches",
    truly: "On three arrivals in ten no sensor of the person says so for the whole stay.",
    breaks: "missed",
    unshowable: true,
    build: (chance, span, view) => {
      const { world, life } = falselyDrivingIn(chance, span, { ...view, faulty: false }, TWO_OUTSIDE);
      return view.faulty ? atArrivals(world, life, (now, person, at, home) => (chance() < 0.3 ? withSaying(now, ["phone", "tag", "lamp"].map((sort) => `${sort}-${person}`), { from: at - MINUTE, to: home.to + 3 * MINUTE }, 0) : now)) : world;
    },
  },
];

/** Months of one history. */
export const MONTHS = 3;

/** Every mechanism of the study, in the order of its table. */
export const mechanisms: readonly Mechanism[] = drafts.map((draft) => ({ ...draft, mild: false }));

function flatPhone(id: string, name: string, truly: string, quieten: (now: World, id: string, at: number, end: number) => World, setting = TWO_OUTSIDE): Draft {
  return {
    id,
    name,
    truly,
    breaks: "missed",
    build: (chance, span, view) => {
      const { world, life } = falselyDrivingIn(chance, span, { ...view, faulty: false }, view.faulty ? setting : TWO_OUTSIDE);
      return view.faulty ? atArrivals(world, life, (now, person, at, home, index) => (index % 2 === 0 ? quieten(now, `phone-${person}`, at, home.to) : now)) : world;
    },
  };
}

function asleep(world: World): World {
  const ids = ofSorts(world, ["mat", "eye", "tag", "lamp"]);
  let now = world;
  for (let day = world.from; day < world.to; day += DAY) now = withSaying(now, ids, { from: day + 23 * HOUR, to: Math.min(world.to, day + 30 * HOUR) }, 2);
  return now;
}

/** Sorts that say to the second what another says. */
function following(world: World, pairs: readonly (readonly [string, string])[]): World {
  const other = (id: string, from: string, to: string): string => id.replace(`${from}-`, `${to}-`);
  return pairs.reduce((now, [from, to]) => now.sensors.filter(({ id }) => sortOf(id) === from).reduce((one, { id }) => copied(one, id, other(id, from, to)), now), world);
}

function copiedNotes(world: World, id: string): Note[] {
  const { on, steps } = world.sensors.find((one) => one.id === id)!;
  return steps.map(({ at, says }, i) => ({ subject: on, on: says === 1, from: at, to: steps[i + 1]?.at ?? world.to }));
}
