import type { FoundSignal, Placing } from "./found.js";
import { MINUTE_MS } from "../ground/units.js";
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
