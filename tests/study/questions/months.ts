/** Months whose diary stops: what happens after it, only somebody who was there can say. */
import { evenly } from "../verdict/fault-times.js";
import { household, withSaying } from "../verdict/household.js";
import { householdLife, isHome } from "../verdict/household-life.js";
import type { View } from "../verdict/mechanism.js";
import { BAY_DIARY, falselyArriving, falselyPassing, FULL_DIARY } from "../verdict/parts.js";
import { between, type Chance } from "../verdict/random.js";
import { DAY, HOUR, MINUTE, type Span, type World } from "../verdict/world.js";

/** A sort of month. */
export interface Month {
  readonly id: string;
  readonly name: string;
  /** What the fault breaks; null where the rule has none. */
  readonly breaks: "wrong" | null;
  build(chance: Chance, span: Span, view: View): World;
}

/** The months of the study. */
export const monthSorts: readonly Month[] = [
  {
    id: "parcels",
    name: "household, a phone seems to come home as a parcel comes",
    breaks: "wrong",
    build: (chance, span, view) => stopped(chance, falselyArriving(chance, span, view, FULL_DIARY).world),
  },
  {
    id: "nights",
    name: "household, a phone at home seems to leave and come back on most nights",
    breaks: null,
    build(chance, span) {
      const life = householdLife(chance, span, {});
      const nights = evenly(chance, span, 40).filter((at) => isHome(life, "ana", at) && (at % DAY) / HOUR < 6);
      const world = nights.reduce((now, at) => withSaying(now, ["phone-ana"], { from: at, to: at + between(chance, 12, 40) * MINUTE }, 0), household(chance, life, FULL_DIARY));
      return stopped(chance, world);
    },
  },
  {
    id: "lane",
    name: "yard, vehicles pass the lane and turn around",
    breaks: "wrong",
    build: (chance, span, view) => stopped(chance, falselyPassing(chance, span, view, BAY_DIARY).world),
  },
];

/** The world with a diary that stops after three to four weeks. */
function stopped(chance: Chance, world: World): World {
  const end = world.from + Math.floor(between(chance, 21, 28)) * DAY;
  return { ...world, diary: world.diary.flatMap((note) => (note.from >= end ? [] : [{ ...note, to: Math.min(note.to, end) }])) };
}
