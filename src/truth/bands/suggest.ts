import type { Mode } from "./modes.js";
import type { OtherMode } from "./other-modes.js";
import { readingPerMetre } from "./speed-of-sound.js";

/**
 * Half-width of a suggested band in standard deviations of the readings: far beyond what noise alone reaches. Our own
 * choice.
 */
export const BAND_DEVIATIONS = 6;
/**
 * The air may become this much colder or warmer than it was in the month's readings, °C. Our own choice for temperate
 * outdoors.
 */
const TEMPERATURE_SWING_CELSIUS = 20;
/**
 * The band takes in a further mode that was seen in at least this many stretches, or for this many hours in all. Our
 * own choice.
 */
const FEWEST_STRETCHES = 2;
const LEAST_HOURS = 0.5;

/**
 * How much too long an echo meter reads, as a share, when the air is {@link TEMPERATURE_SWING_CELSIUS} colder than the
 * 20 °C it assumes.
 */
export function temperatureShare(): number {
  return readingPerMetre(20 - TEMPERATURE_SWING_CELSIUS, 20) - 1;
}

/** A suggested band in metres, or why there is none; and what led to it, in sentences. */
interface Suggestion {
  readonly band: { readonly nearMetres: number; readonly farMetres: number } | null;
  readonly why: string | null;
  readonly evidence: readonly string[];
}

/**
 * The band that holds the occupied mode, and further modes seen often enough while siblings say occupied, each with six
 * standard deviations and the allowance for temperature on both sides; and that keeps the same distance from the empty
 * mode. If both are impossible the edge lies at `threshold`, if that still leaves the occupied mode six deviations;
 * otherwise there is no suggestion. `empty` null: an empty bay gives no echo, and the band may reach as far as it
 * needs.
 */
export function suggestBand(occupied: Mode, empty: Mode | null, threshold: number | null, others: readonly OtherMode[]): Suggestion {
  const room = (mode: Mode): number => BAND_DEVIATIONS * mode.deviationMetres + temperatureShare() * mode.metres;
  const own = (metres: number): Mode => ({ ...occupied, metres });
  const evidence = [`occupied reads ${cm(occupied.metres)} ± ${cm(occupied.deviationMetres)} (${occupied.readings} readings)`];
  evidence.push(
    empty === null ? "empty gives no echo" : `empty reads ${cm(empty.metres)} ± ${cm(empty.deviationMetres)} (${empty.readings} readings)`,
  );

  const side = empty === null ? 0 : Math.sign(empty.metres - occupied.metres);
  /** How far an edge may go towards the empty mode. */
  const limit = empty === null ? Infinity : empty.metres - side * room(empty);
  const clears = (edge: number): boolean => empty === null || side * (limit - edge) >= 0;

  let [near, far] = [occupied.metres - room(occupied), occupied.metres + room(occupied)];
  for (const other of others) {
    const text = `${other.stretches} ${other.stretches === 1 ? "stretch" : "stretches"} (${other.hours.toFixed(1)} h) at ${cm(other.metres)} while the others say occupied`;
    const [from, to] = [other.metres - room(own(other.metres)), other.metres + room(own(other.metres))];
    if (other.stretches < FEWEST_STRETCHES && other.hours < LEAST_HOURS) evidence.push(`${text}: too seldom to count`);
    else if (!clears(side >= 0 ? to : from)) evidence.push(`${text}: too near to the empty reading to be included`);
    else {
      [near, far] = [Math.min(near, from), Math.max(far, to)];
      evidence.push(`${text}: included`);
    }
  }
  evidence.push(
    `the edges allow for ${BAND_DEVIATIONS} times the usual spread and for air ${TEMPERATURE_SWING_CELSIUS} °C colder or warmer (${(temperatureShare() * 100).toFixed(1)} % for an echo meter)`,
  );

  const edge = side >= 0 ? far : near;
  if (!clears(edge)) {
    const bare = occupied.metres + side * BAND_DEVIATIONS * occupied.deviationMetres;
    if (threshold === null || side * (threshold - bare) < 0)
      return { band: null, why: "the occupied and the empty readings lie too near to each other", evidence };
    if (side >= 0) far = threshold;
    else near = threshold;
    evidence.push("the edge towards empty lies at the threshold: there is no room for more");
  }
  return { band: { nearMetres: Math.max(0, near), farMetres: far }, why: null, evidence };
}

/** Centimetres to the millimetre. */
function cm(metres: number): string {
  return `${(metres * 100).toFixed(1)} cm`;
}
