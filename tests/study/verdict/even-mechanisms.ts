/** Faults that come when they like, hidden or not by how the history is kept. */
import { awayFromVehicles, evenly, inClumps } from "./fault-times.js";
import { isHome, PEOPLE } from "./household-life.js";
import type { Mechanism } from "./mechanism.js";
import { BAY_DIARY, falselyArriving, falselyPassing, FULL_DIARY, OFTEN, TWO_A_BAY, TWO_OUTSIDE, withPassage } from "./parts.js";
import { following } from "./steps.js";
import { DAY, HOUR, SECOND, type Sensor } from "./world.js";
import { laneRule, yard, yardLife } from "./yard.js";

/** The season with faults, of twelve months; audits see the others. */
const BAD_MONTHS = [6, 7, 8];
const LOOKS = 12;
const VARIANTS = 10;

export const evenMechanisms: readonly Mechanism[] = [
  {
    id: "even-diary",
    name: "faults spread evenly, household",
    truly: "A phone loses its network and finds it again just as a parcel comes, at any time. The diary is complete.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyArriving(chance, span, view, FULL_DIARY).world,
  },
  {
    id: "even-yard",
    name: "faults spread evenly, yard",
    truly: "Vehicles pass the lane and turn around, at any time. Two sensors in each bay.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyPassing(chance, span, view, TWO_A_BAY).world,
  },
  {
    id: "season",
    name: "all faults in one season",
    truly: "Vehicles pass and turn around in three months of the year only; the month seen is one of the others. Two sensors in each bay.",
    breaks: "wrong",
    mild: true,
    unshowable: true,
    build: (chance, span, view) => falselyPassing(chance, span, view, TWO_A_BAY, (some) => (!view.seen && BAD_MONTHS.includes(view.month % 12) ? evenly(some, span, 4 * OFTEN) : [])).world,
  },
  {
    id: "clumps",
    name: "faults in clumps, three a month",
    truly: "Four to seven vehicles within four hours pass and turn around, three times a month. Two sensors in each bay.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyPassing(chance, span, view, TWO_A_BAY, (some) => inClumps(some, span, 4, 8)).world,
  },
  {
    id: "clumps-rare",
    name: "faults in clumps, with weeks between",
    truly: "A phone comes and goes four to seven times within half a day while parcels come, then not for about a month. The diary is complete.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyArriving(chance, span, view, FULL_DIARY, { times: (some) => inClumps(some, span, 1, 12) }).world,
  },
  {
    id: "holidays",
    name: "ten days of holidays",
    truly: "Nobody is home for ten of the days seen; a phone at home loses its network for a while as a parcel comes. The diary is complete.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) =>
      falselyArriving(chance, span, view, FULL_DIARY, { times: (some) => evenly(some, span, 1.6 * OFTEN), who: (at, life) => PEOPLE.find((person) => isHome(life, person, at)) ?? null }, view.seen && view.faulty ? { holiday: { from: span.from + 9 * DAY, to: span.from + 19 * DAY + 17 * HOUR } } : {}).world,
  },
  {
    id: "two-in-one",
    name: "two people in one vehicle",
    truly: "On six of ten trips both come together; false arrivals spread evenly. Two sensors a person outside the rule.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyArriving(chance, span, view, TWO_OUTSIDE, {}, { together: 0.6 }).world,
  },
  {
    id: "repeated-exports",
    name: "exports that overlap and repeat",
    truly: "Faults spread evenly; weekly files that overlap by two days, and the first one twice. Two sensors in each bay.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => ({ ...falselyPassing(chance, span, view, TWO_A_BAY).world, exporting: { overlapping: true, hoursOff: {} } }),
  },
  {
    id: "begins-late-in-month",
    name: "faults that begin ten days before the end and stay",
    truly: "A worn beam: nothing for three weeks, then as often as from then on always. The diary of the bays is complete.",
    breaks: "wrong",
    mild: true,
    build: (chance, span, view) => falselyPassing(chance, span, view, BAY_DIARY, (some) => evenly(some, span, 1.5 * OFTEN).filter((at) => !view.seen || at > span.to - 10 * DAY)).world,
  },
  {
    id: "monthly-looks",
    name: "twelve monthly looks at a rule at its limit",
    truly: "Faults spread evenly, exactly as many as the limit; the rule counts as cleared if one of twelve monthly audits with all earlier results clears it. Two sensors in each bay.",
    breaks: "wrong",
    mild: false,
    over: 1,
    looks: LOOKS,
    build: (chance, span, view) => falselyPassing(chance, span, view, TWO_A_BAY).world,
  },
  {
    id: "best-of-ten",
    name: "the best of ten rules at their limit",
    truly: "Ten loops in one lane, a rule each, every one with faults of its own, exactly as many as the limit; nine are tried beside the first. Cleared if any is. The diary of the bays is complete.",
    breaks: "wrong",
    mild: false,
    over: 1,
    build: (chance, span, view) => {
      const life = yardLife(chance, span);
      let world = yard(chance, life, BAY_DIARY);
      const loops = Array.from({ length: VARIANTS - 1 }, (_, i): Sensor => {
        const id = `loop-${i + 2}`;
        return { id, on: "lane", source: "loops", kind: "contact", shares: [`${id}-board`], everyMs: HOUR, steps: following(life, life.passages, () => chance() * 4 * SECOND) };
      });
      world = { ...world, sensors: [...world.sensors, ...loops], tried: loops.map(({ id }) => laneRule(`open by ${id}`, id)) };
      if (!view.faulty) return world;
      for (const loop of ["lane-loop", ...loops.map(({ id }) => id)]) for (const at of awayFromVehicles(evenly(chance, span, OFTEN), life)) world = withPassage(world, at, loop);
      return world;
    },
  },
];
