import type { FoundSignal, Placing } from "./found.js";
import { DAY_MS, HOUR_MS, MINUTE_MS } from "../ground/units.js";
import { tokensOf } from "./names.js";

/** Names and words of what notices only that something moves or is used: its silence says nothing (common practice, no source). */
const moving = [
  "motion", "pir", "movement", "move", "moving", "moved", "bewegung", "bewegungsmelder", "mouvement", "movimiento", "vibration", "tap", "tapped",
];

/** Names of places where anybody may pass: movement there is nobody's being at home (common practice, no source). */
const outside = [
  "outside", "outdoor", "outdoors", "exterior", "garden", "yard", "drive", "driveway", "porch", "street", "road", "path", "gate", "carport", "aussen", "außen",
  "draussen", "draußen", "garten", "hof", "einfahrt", "strasse", "straße", "dehors", "extérieur", "jardin", "jardín", "rue", "cour", "fuera", "patio", "calle",
];

/** Whether a signal's name, or the word that it says, is that of a sensor that notices only movement; and whether that is inside. */
export function noticesMovement({ called, name, source, reading }: Pick<FoundSignal, "called" | "name" | "source" | "reading">): "inside" | "outside" | null {
  const tokens = tokensOf(`${source.layout.form === "long" ? "" : source.id} ${called} ${name}`);
  const said = reading.form === "words" ? reading.words.on.flatMap(tokensOf) : [];
  if (![...tokens, ...said].some((token) => moving.includes(token))) return null;
  return tokens.some((token) => outside.includes(token)) ? "outside" : "inside";
}

/** Whether a name is that of a sensor that notices only movement. */
export function namedMovement(name: string): boolean {
  return tokensOf(name).some((token) => moving.includes(token));
}

/** What notices movement goes on at least so often a day, for so long at the usual time, and for so little of the time (our own choices). */
const FEWEST_A_DAY = 8;
const USUAL_ON_MS = 5 * MINUTE_MS;
const MOST_ON = 0.2;
/** People sleep: the quietest hours in a row hold at most this part of what an equal share would be (our own choices). A fridge does not. */
const QUIET_HOURS = 5;
const MOST_QUIET = 0.5;
const FEWEST_DAYS = 3;

/**
 * How a sensor whose name tells nothing goes on and off like what notices movement does: often, for seconds or minutes, and seldom in some hours of
 * the day. Null where it does not. A sign only: a pump that people turn on does so too.
 */
export function actsLikeMovement({ states, readings: { times } }: Pick<FoundSignal, "states" | "readings">): string | null {
  const days = ((times.at(-1) ?? 0) - (times[0] ?? 0)) / DAY_MS;
  const starts = [...times.keys()].filter((i) => states[i] === 1 && states[i - 1] !== 1).map((i) => times[i] ?? 0);
  const lengths = stirLengths(states, times, 1).sort((a, b) => a - b);
  const usualMs = lengths[Math.floor(lengths.length / 2)] ?? Number.POSITIVE_INFINITY;
  // By the usual length: where the word for off was lost, one "on" seems to last for hours.
  const onMs = usualMs * starts.length;
  if (days < FEWEST_DAYS || starts.length < FEWEST_A_DAY * days || usualMs > USUAL_ON_MS || onMs > MOST_ON * days * DAY_MS) return null;
  const hours = new Array<number>(24).fill(0);
  for (const start of starts) {
    const hour = Math.floor((start % DAY_MS) / HOUR_MS);
    hours[hour] = (hours[hour] ?? 0) + 1;
  }
  const quietest = Math.min(...hours.map((_, from) => hours.reduce((sum, count, hour) => sum + ((hour - from + 24) % 24 < QUIET_HOURS ? count : 0), 0)));
  if (quietest > (MOST_QUIET * QUIET_HOURS * starts.length) / 24) return null;
  return `it goes on ${Math.round(starts.length / days)} times a day, mostly for ${usualMs < MINUTE_MS ? `${Math.round(usualMs / 1000)} s` : `${Math.round(usualMs / MINUTE_MS)} min`}, and seldom in some hours of the day, as what notices movement does`;
}

/** Whether all that tells of people here are sensors that notice only movement. */
export function peopleOnlyStir(placings: readonly Placing[]): boolean {
  const people = placings.filter((placing) => placing.class === "person");
  return people.length > 0 && people.every(({ stirs }) => stirs === true);
}

/** Of a sensor that says both, nineteen in twenty of its stirs are over by then: what came before a door shut may still be said so long after. */
const LONGEST_SHARE = 0.95;
const LEAST_GRACE_MINUTES = 1;
/** Our own choice: a rule that waits longer is of no use. */
const MOST_GRACE_MINUTES = 10;

/** How long after somebody left the sensors may go on saying that they notice somebody, in whole minutes. */
export function graceMinutes(placings: readonly Placing[]): number {
  const lengths = placings.filter(({ stirs }) => stirs === true).flatMap(({ signal: { states, readings }, direction }) => stirLengths(states, readings.times, direction === "reversed" ? 0 : 1)).sort((a, b) => a - b);
  const usual = lengths[Math.floor(LONGEST_SHARE * (lengths.length - 1))] ?? 0;
  return Math.min(MOST_GRACE_MINUTES, Math.max(LEAST_GRACE_MINUTES, Math.ceil(usual / MINUTE_MS)));
}

/** From each turn to `on` to the next turn to the other state. */
function stirLengths(states: Float64Array, times: Float64Array, on: 0 | 1): number[] {
  const lengths: number[] = [];
  let from = Number.NaN;
  states.forEach((state, i) => {
    if (state === on && Number.isNaN(from)) from = times[i] ?? Number.NaN;
    if (state !== 1 - on || Number.isNaN(from)) return;
    lengths.push((times[i] ?? from) - from);
    from = Number.NaN;
  });
  return lengths;
}
