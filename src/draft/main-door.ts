import { HOUR_MS, MINUTE_MS } from "../ground/units.js";
import type { FoundSignal, Placing } from "./found.js";
import { tokensOf } from "./names.js";

/** Names of the door by which people leave (common practice, no source). */
const mainNames = ["front", "entrance", "main", "house", "haustür", "haustuer", "eingang", "wohnungstür", "entrée", "entree", "entrada", "principal"];

/** From so long a silence on nobody may be there. Our own choice. */
const LONG_SILENCE_MS = HOUR_MS;
/** Who shuts a door behind them may be noticed so long before or after. Our own choice. */
const NEAR_MS = 2 * MINUTE_MS;

/**
 * The contact of the door that people leave by: the one that is called so, else the one after whose shutting it is most often silent for long, else
 * the one that moves most. Null without a door.
 */
export function mainDoor(placings: readonly Placing[]): string | null {
  const doors = placings.filter(({ class: one, signal }) => one === "door" && signal.reading.form === "words");
  const named = doors.filter(({ signal }) => tokensOf(signal.called).some((token) => mainNames.includes(token)));
  const silences = longSilences(placings.filter(({ stirs }) => stirs === true));
  const [first] = (named.length > 0 ? named : doors)
    .map(({ signal, direction }) => ({ signal, left: leftBy(signal, direction === "reversed" ? 1 : 0, silences) }))
    .sort((a, b) => b.left - a.left || b.signal.readings.times.length - a.signal.readings.times.length);
  return first?.signal.id ?? null;
}

/** The instants from which nothing stirred for long, in order. */
function longSilences(stirring: readonly Placing[]): number[] {
  const news = stirring.flatMap(({ signal: { readings } }) => [...readings.times]).sort((a, b) => a - b);
  return news.filter((at, i) => (news[i + 1] ?? at) - at >= LONG_SILENCE_MS);
}

/** How many silences began about when the door shut. */
function leftBy({ readings: { times }, states }: FoundSignal, shut: 0 | 1, silences: readonly number[]): number {
  const shuts = [...times].filter((_, i) => states[i] === shut && states[i - 1] === 1 - shut);
  let next = 0;
  return silences.filter((from) => {
    while ((shuts[next] ?? Infinity) < from - NEAR_MS) next++;
    return (shuts[next] ?? Infinity) <= from + NEAR_MS;
  }).length;
}
