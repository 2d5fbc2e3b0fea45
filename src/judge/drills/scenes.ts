import type { QuietState, Scene } from "../../result/trials.js";
import type { SignalSpec, Site } from "../../site/site.js";
import { UNKNOWN, type TruthState } from "../../timeline/timeline.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";

/** What one signal says from `afterMs` after the scene's first event on. */
export interface SceneStep {
  readonly signal: string;
  readonly afterMs: number;
  readonly state: TruthState;
}

/**
 * One way in which a scene may happen: how it stood before, and what the signals say then. Steps in time order for each
 * signal.
 */
export interface SceneVariant {
  /** Who and what: `yard-door, phone of mira`. */
  readonly told: string;
  readonly before: ReadonlyMap<string, TruthState>;
  readonly steps: readonly SceneStep[];
}

/** From the phone's coming into the radius to the door's opening. Our own choice. */
const PHONE_BEFORE_DOOR_MS = MINUTE_MS;
/** A door that somebody opened stands open this long. Our own choice. */
const DOOR_OPEN_MS = 5 * MINUTE_MS;
/**
 * A forged phone that is already here is first moved away for this long: beyond the usual hold times. Our own choice.
 */
const FORGED_AWAY_MS = 30 * MINUTE_MS;
/** Power cuts: one shorter than the usual bridge of a minute, one longer. Our own choice. */
const POWER_CUTS_MS = [30 * SECOND_MS, 10 * MINUTE_MS] as const;
/** After the cut shared causes come back one by one, this far apart. Our own choice. */
const RETURN_APART_MS = 20 * SECOND_MS;
/** Sensors that come up with "off" say so for this long before they have looked. Our own choice. */
const BOOT_OFF_MS = 10 * SECOND_MS;

/**
 * The ways in which a scene may happen to the given signals of a site, from a quiet state: every door, person and bay
 * in turn. House empty: bays empty, doors closed, people away. People home asleep: bays occupied, doors closed, people
 * here; only for the stranger's vehicle is its bay empty then too, its own vehicle being out. Empty when the site has
 * nothing that the scene could happen to.
 */
export function sceneVariants(scene: Scene, state: QuietState, signals: readonly SignalSpec[], site: Site): SceneVariant[] {
  const world = { before: quiet(state, signals, site), asleep: state === "people home asleep", signals, site };
  switch (scene) {
    case "someone opens the door while a phone is inside the radius":
      return doorOpened(world);
    case "a phone's position is forged":
      return phoneForged(world);
    case "a stranger's vehicle in the bay":
      return strangerParked(world);
    case "a power cut and return":
      return powerCut(world);
  }
}

interface World {
  readonly before: ReadonlyMap<string, TruthState>;
  readonly asleep: boolean;
  readonly signals: readonly SignalSpec[];
  readonly site: Site;
}

function quiet(state: QuietState, signals: readonly SignalSpec[], site: Site): Map<string, TruthState> {
  const classOf = new Map(site.subjects.map((subject) => [subject.id, subject.class]));
  return new Map(signals.map((signal) => [signal.id, state === "people home asleep" && classOf.get(signal.subject) !== "door" ? 1 : 0]));
}

/**
 * Somebody else opens the door. House empty: just after a phone has come inside the radius, for its owner passes by.
 * Asleep: all phones are inside.
 */
function doorOpened(world: World): SceneVariant[] {
  const phones = subjectsOf("person", world).filter((person) => phonesOf(person, world).length > 0);
  const steps = (door: string): SceneStep[] =>
    on(door, world).flatMap(({ id }) => [
      { signal: id, afterMs: PHONE_BEFORE_DOOR_MS, state: 1 as const },
      { signal: id, afterMs: PHONE_BEFORE_DOOR_MS + DOOR_OPEN_MS, state: 0 as const },
    ]);
  return subjectsOf("door", world).flatMap((door) =>
    world.asleep
      ? [{ told: door, before: world.before, steps: steps(door) }]
      : phones.map((person) => ({ told: `${door}, phone of ${person}`, before: world.before, steps: [...phonesOf(person, world).map(({ id }) => ({ signal: id, afterMs: 0, state: 1 as const })), ...steps(door)] })),
  );
}

/**
 * All phone and position signals of one person say "here"; where they do already, they first say "away" for a while.
 * Nothing else moves.
 */
function phoneForged(world: World): SceneVariant[] {
  return subjectsOf("person", world)
    .filter((person) => phonesOf(person, world).length > 0)
    .map((person) => ({
      told: `phone of ${person}`,
      before: world.before,
      steps: phonesOf(person, world).flatMap(({ id }) => [...(world.asleep ? [{ signal: id, afterMs: 0, state: 0 as const }] : []), { signal: id, afterMs: world.asleep ? FORGED_AWAY_MS : 0, state: 1 as const }]),
    }));
}

/** Every signal on one empty bay turns on, and stays so. Nothing else moves. */
function strangerParked(world: World): SceneVariant[] {
  return subjectsOf("bay", world).map((bay) => ({
    told: bay,
    before: new Map([...world.before, ...on(bay, world).map(({ id }) => [id, 0] as const)]),
    steps: on(bay, world).map(({ id }) => ({ signal: id, afterMs: 0, state: 1 as const })),
  }));
}

/**
 * Every signal unknown, then back as it was, nobody having told the rule that it was a restart: all at once; shared
 * cause by shared cause; and all saying "off" first, as sensors do that come up before they have looked.
 */
function powerCut(world: World): SceneVariant[] {
  const causes = [...new Set(world.signals.flatMap((signal) => signal.shares))].sort();
  return POWER_CUTS_MS.flatMap((cutMs) => {
    const variant = (how: string, back: (signal: SignalSpec, state: TruthState) => SceneStep[]): SceneVariant => ({
      told: `${cutMs / SECOND_MS} s, ${how}`,
      before: world.before,
      steps: world.signals.flatMap((signal) => [{ signal: signal.id, afterMs: 0, state: UNKNOWN }, ...back(signal, world.before.get(signal.id) ?? UNKNOWN)]),
    });
    return [
      variant("all back at once", ({ id }, state) => [{ signal: id, afterMs: cutMs, state }]),
      variant("back one shared cause after another", ({ id, shares }, state) => [{ signal: id, afterMs: cutMs + RETURN_APART_MS * Math.max(0, ...shares.map((cause) => causes.indexOf(cause))), state }]),
      variant("every signal off at first", ({ id }, state) => [{ signal: id, afterMs: cutMs, state: 0 }, { signal: id, afterMs: cutMs + BOOT_OFF_MS, state }]),
    ];
  });
}

function on(subject: string, { signals }: World): SignalSpec[] {
  return signals.filter((signal) => signal.subject === subject);
}

function phonesOf(person: string, world: World): SignalSpec[] {
  return on(person, world).filter(({ kind }) => kind === "phone" || kind === "position");
}

function subjectsOf(subjectClass: string, { site }: World): string[] {
  return site.subjects.filter((subject) => subject.class === subjectClass).map(({ id }) => id);
}
