/**
 * A yard of four bays behind an entry lane. The rule listens to a loop and a beam in the lane; a meter and a mat in each bay,
 * or a diary of the bays, tell whether somebody came to stay.
 */
import { notesOf } from "./household.js";
import { between, type Chance } from "./random.js";
import { following, wholeSecond } from "./steps.js";
import { DAY, HOUR, MINUTE, SECOND, type Rule, type Sensor, type Span, type World } from "./world.js";

export const BAYS = ["bay-1", "bay-2", "bay-3", "bay-4"] as const;

/** When which bay was taken, and when a vehicle passed the entry lane. */
export interface YardLife extends Span {
  readonly taken: Readonly<Record<string, readonly Span[]>>;
  readonly passages: readonly Span[];
}

/** Who tells the truth besides the rule. */
export interface YardSetting {
  readonly meters: boolean;
  readonly mats: boolean;
  readonly diary: boolean;
}

/** Vehicles come to the lane this long before they stand in the bay. */
export const LANE_LEAD = 50 * SECOND;
const APART = 26 * MINUTE;

/** The rule of the yard: the loop and the beam have both just seen somebody. */
export function laneRule(name = "open the gate", loop = "lane-loop"): Rule {
  return {
    name,
    act: "unlock",
    parts: [
      { form: "turned", anyOf: [loop], withinMs: MINUTE },
      { form: "turned", anyOf: ["lane-beam"], withinMs: MINUTE },
    ],
    restMs: 2 * MINUTE,
    right: { form: "came", subjects: BAYS, withinMs: 12 * MINUTE },
  };
}

/** Vehicles come between six and ten, about six a day, and stay for one to five hours. */
export function yardLife(chance: Chance, span: Span): YardLife {
  const taken: Record<string, Span[]> = Object.fromEntries(BAYS.map((bay) => [bay, []]));
  const passages: Span[] = [];
  let last = -Infinity;
  for (let day = span.from; day < span.to; day += DAY) {
    for (let at = day + 6 * HOUR; ; ) {
      at += APART - Math.log(1 - chance()) * 140 * MINUTE;
      if (at > day + 22 * HOUR || at > span.to - HOUR) break;
      const free = BAYS.filter((bay) => (taken[bay]!.at(-1)?.to ?? span.from) < at - 20 * MINUTE);
      if (free.length === 0 || at - last < APART) continue;
      const from = wholeSecond(at);
      const bay = free[Math.floor(chance() * free.length)]!;
      taken[bay]!.push({ from, to: Math.min(span.to, wholeSecond(at + between(chance, 1, 5) * HOUR)) });
      passages.push({ from: from - LANE_LEAD, to: from - LANE_LEAD + 6 * SECOND });
      last = at;
    }
  }
  return { ...span, taken, passages };
}

/** The yard without a fault. */
export function yard(chance: Chance, life: YardLife, setting: YardSetting): World {
  const sensors: Sensor[] = ["lane-loop", "lane-beam"].map((id) => ({ id, on: "lane", source: id, kind: "contact", shares: [`${id}-board`], everyMs: HOUR, steps: following(life, life.passages, () => between(chance, 0, 4) * SECOND) }));
  for (const bay of BAYS) {
    const lag = (): number => between(chance, 5, 40) * SECOND;
    const overseen = (): boolean => chance() < 0.005;
    if (setting.meters) sensors.push({ id: `${bay}-meter`, on: bay, source: "meters", kind: "distance", shares: ["meter-board"], everyMs: HOUR, steps: following(life, life.taken[bay]!, lag, overseen) });
    if (setting.mats) sensors.push({ id: `${bay}-mat`, on: bay, source: "mats", kind: "flag", shares: ["mat-board"], everyMs: HOUR, steps: following(life, life.taken[bay]!, lag, overseen) });
  }
  const subjects = [...BAYS.map((id) => ({ id, class: "bay" as const, on: life.taken[id]! })), { id: "lane", class: "door" as const, on: life.passages }];
  const world: World = { from: life.from, to: life.to, place: "yard", subjects, sensors, diary: [], rule: laneRule(), tried: [], exporting: { overlapping: false, hoursOff: {} } };
  return setting.diary ? { ...world, diary: notesOf(world, BAYS) } : world;
}

/** Whether no vehicle comes from 16 minutes before to 5 minutes after. */
export function laneQuiet(life: YardLife, at: number): boolean {
  return !life.passages.some(({ from }) => from > at - 16 * MINUTE && from < at + 5 * MINUTE);
}
