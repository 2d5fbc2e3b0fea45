/* eslint-disable @typescript-eslint/no-non-null-assertion -- indices run below the number of steps */
import { stretches } from "../../timeline/stretches.js";
import { stateAt } from "../../timeline/state-at.js";
import { OFF, ON, type Timeline } from "../../timeline/timeline.js";
import { MINUTE_MS } from "../../ground/units.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { lookUp } from "../../ground/look-up.js";
import { quantileEstimate } from "../../statistics/quantile.js";
import type { Site, Subject, SubjectClass } from "../../site/site.js";
import { confirmedTimeline } from "../rule/facts.js";
import type { History } from "../rule/prepare.js";

/** Reports this far apart at most may be about one arrival. Our own choice. */
const REACH_MS = 20 * MINUTE_MS;
/** A bay and a person belong together if they came together at least so often. Our own choice. */
const LEAST_TOGETHER = 3;
/** With fewer occasions a quantile says little, and {@link USUAL_WINDOW_MS} is taken. Our own choice. */
const LEAST_OCCASIONS = 5;
const USUAL_WINDOW_MS = 5 * MINUTE_MS;
/** What is measured is stretched by this, and by at least half a minute: the longest wait may be still to come. Our own choice. */
const MARGIN = 0.25;
const LEAST_MARGIN_MS = MINUTE_MS / 2;
/** Times as one writes them, in minutes. */
const readable = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30] as const;
/** The quantiles of what was measured that times are taken from. */
const levels = [0.9, 0.99] as const;

/** What the first part of a history teaches about a site. All durations in milliseconds. */
export interface Learned {
  readonly subjects: (wanted: SubjectClass) => readonly Subject[];
  readonly signals: (subject: string) => readonly string[];
  /** The people who most often come together with a bay's vehicle; all of them where nobody does often enough. */
  readonly ownersOf: (bay: string) => readonly Subject[];
  /** The doors that most often open when a vehicle comes to the bay; all of them where none does often enough. */
  readonly doorsOf: (bay: string) => readonly Subject[];
  /** Windows for conditions of these classes that must hold together: one set for each quantile. */
  readonly windowsFor: (used: readonly SubjectClass[]) => readonly Windows[];
  /** Hold times that would outlast the false "off" of the signals of a class, 0 among them. */
  readonly holdsFor: (wanted: SubjectClass) => readonly number[];
}

/** How far back the conditions of each class look. */
export type Windows = Readonly<Record<SubjectClass, number>>;

/** Learns from what happened before `until`. */
export function learn(site: Site, history: History, until: number): Learned {
  // No proposal listens to stirs: they tell of nobody that they came or went.
  const signals = (subject: string): string[] => site.signals.filter((one) => one.subject === subject && one.kind !== "stir").map(({ id }) => id);
  const subjects = (wanted: SubjectClass): Subject[] => site.subjects.filter((one) => one.class === wanted && signals(one.id).length > 0);
  const truth = new Map(site.subjects.map(({ id }) => [id, confirmedTimeline(history.book(id, []))]));
  const came = new Map([...truth].map(([id, timeline]) => [id, turnsOn(timeline, until)]));
  const told = new Map(site.signals.map(({ id }) => [id, turnsOn(lookUp(history.accounts, id).live, until)]));
  const linked = (bay: string, others: readonly Subject[]): readonly Subject[] => {
    const counts = others.map(({ id }) => lookUp(came, bay).filter((at) => nearest(lookUp(came, id), at) !== null).length);
    const most = Math.max(0, ...counts);
    return most < LEAST_TOGETHER ? others : others.filter((_, i) => 2 * counts[i]! >= most);
  };
  const [bays, doors, people] = (["bay", "door", "person"] as const).map(subjects) as [Subject[], Subject[], Subject[]];
  const owners = new Map(bays.map(({ id }) => [id, linked(id, people)]));
  const gates = new Map(bays.map(({ id }) => [id, linked(id, doors)]));
  const comings = { bays, doors, people, owners, gates, came, told, signals };
  const [vehicles, persons] = [vehicleOccasions(comings), personOccasions(comings)];
  return {
    subjects,
    signals,
    ownersOf: (bay) => lookUp(owners, bay),
    doorsOf: (bay) => lookUp(gates, bay),
    windowsFor: (used) => levels.map((level) => windowsAt(level, used, used.includes("bay") ? vehicles : persons)),
    holdsFor: (wanted) => holds(subjects(wanted).flatMap(({ id }) => signals(id).flatMap((signal) => falseOffs(lookUp(history.accounts, signal).live, lookUp(truth, id), until)))),
  };
}

/** The instants before `until` at which a timeline turns on from off. */
function turnsOn({ times, states }: Timeline, until: number): number[] {
  return Array.from(times).filter((at, i) => i > 0 && at < until && states[i] === ON && states[i - 1] === OFF);
}

/** The instant nearest to `at` within {@link REACH_MS}; null where there is none. The instants are in order. */
function nearest(instants: readonly number[], at: number): number | null {
  const i = firstAtOrAfter(instants, at);
  const [before, after] = [instants[i - 1] ?? -Infinity, instants[i] ?? Infinity];
  const found = at - before < after - at ? before : after;
  return Math.abs(found - at) <= REACH_MS ? found : null;
}

/** When the signals of each class told of one arrival: the first and the last of them. */
type Occasion = Readonly<Partial<Record<SubjectClass, { readonly first: number; readonly last: number }>>>;

interface Comings {
  readonly bays: readonly Subject[];
  readonly doors: readonly Subject[];
  readonly people: readonly Subject[];
  readonly owners: ReadonlyMap<string, readonly Subject[]>;
  readonly gates: ReadonlyMap<string, readonly Subject[]>;
  readonly came: ReadonlyMap<string, readonly number[]>;
  readonly told: ReadonlyMap<string, readonly number[]>;
  readonly signals: (subject: string) => readonly string[];
}

/** Every arrival at a bay, with when its signals told it, and those of its doors and of the people who came with it. */
function vehicleOccasions({ bays, owners, gates, came, told, signals }: Comings): Occasion[] {
  return bays.flatMap(({ id }) =>
    lookUp(came, id).map((at) => {
      const whose = lookUp(owners, id).filter((one) => nearest(lookUp(came, one.id), at) !== null);
      const telling = (subjects: readonly { readonly id: string }[]): number[] => tellingOf(subjects, at, { told, signals });
      return { ...span("bay", telling([{ id }])), ...span("door", telling(lookUp(gates, id))), ...span("person", telling(whose)) };
    }),
  );
}

/** Every arrival of a person, with when their signals and those of the doors told it. */
function personOccasions({ doors, people, came, told, signals }: Comings): Occasion[] {
  return people.flatMap((person) =>
    lookUp(came, person.id).map((at) => ({ ...span("door", tellingOf(doors, at, { told, signals })), ...span("person", tellingOf([person], at, { told, signals })) })),
  );
}

function tellingOf(subjects: readonly { readonly id: string }[], at: number, { told, signals }: Pick<Comings, "told" | "signals">): number[] {
  return subjects.flatMap(({ id }) => signals(id).flatMap((signal) => nearest(lookUp(told, signal), at) ?? []));
}

function span(wanted: SubjectClass, instants: readonly number[]): Occasion {
  return instants.length === 0 ? {} : { [wanted]: { first: Math.min(...instants), last: Math.max(...instants) } };
}

/**
 * For each class: how long before the last report of an arrival its own first one came, at most so often as the
 * quantile says, and a margin.
 */
function windowsAt(level: number, used: readonly SubjectClass[], occasions: readonly Occasion[]): Windows {
  const whole = occasions.filter((one) => used.every((wanted) => one[wanted] !== undefined));
  const windowOf = (wanted: SubjectClass): number => {
    if (whole.length < LEAST_OCCASIONS || !used.includes(wanted)) return USUAL_WINDOW_MS;
    return stretched(quantileOf(whole.map((one) => Math.max(...used.map((other) => one[other]!.last)) - one[wanted]!.first), level));
  };
  return { bay: windowOf("bay"), door: windowOf("door"), person: windowOf("person") };
}

function quantileOf(values: readonly number[], level: number): number {
  return quantileEstimate(values, level, 0.5, "milliseconds").value ?? 0;
}

/** With the margin, rounded up to a readable time. */
function stretched(ms: number): number {
  const needed = ms + Math.max(LEAST_MARGIN_MS, MARGIN * ms);
  return (readable.find((minutes) => minutes * MINUTE_MS >= needed) ?? readable.at(-1)!) * MINUTE_MS;
}

/** How long a signal was off at a stretch while its subject was on throughout; longer ones are no flaps. */
function falseOffs(live: Timeline, truth: Timeline, until: number): number[] {
  return stretches(live, OFF)
    .filter(({ from, to }) => to < until && to - from <= REACH_MS && stateAt(truth, from) === ON && stateAt(truth, to) === ON)
    .map(({ from, to }) => to - from);
}

function holds(flaps: readonly number[]): number[] {
  const measured = flaps.length === 0 ? [] : levels.map((level) => stretched(quantileOf(flaps, level)));
  return [...new Set([0, USUAL_WINDOW_MS, ...measured])].sort((a, b) => a - b);
}
