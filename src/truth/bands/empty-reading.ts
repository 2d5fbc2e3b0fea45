import type { Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import { bandStates } from "../signals/reading-states.js";
import { SILENCE_FACTOR } from "../signals/silence.js";
import type { Band, DistanceRange, Site } from "../../site/site.js";
import { ON } from "../../timeline/timeline.js";
import { LEAST_APART_METRES } from "./other-modes.js";
import { modeOf } from "./modes.js";
import { BAND_DEVIATIONS, temperatureShare } from "./suggest.js";
import { firstAtOrAfter } from "../../ground/search.js";

/** How an empty bay reads, learnt from a meter's own readings. Metres. */
export interface EmptyReading {
  /** None where an empty bay gives no echo, which counts as empty anyway. `farMetres` is Infinity beyond a far heap: only an empty bay lets the meter see farther. */
  readonly ranges: readonly DistanceRange[];
  /** The farthest that was read there; what to write as the far end in a site file. The maximum where there was no echo. */
  readonly farthestMetres: number;
}

/** What one absence is: readings in a row outside the band. So many must share a place before it is the bay's own: a visitor stands there once. Our own choice. */
export const FEWEST_ABSENCES = 3;
/** Of the time outside the band, an empty bay reads the same for at least this share. Our own choice. */
export const LEAST_EMPTY_SHARE = 0.1;
/** Where no echo fills at least this share of the time outside the band, no echo is how the empty bay reads. Our own choice. */
const LEAST_NO_ECHO_SHARE = 0.5;
/** Width of the window in which readings are gathered to a heap (metres): some times the noise of a good meter. Our own choice. */
const WINDOW_METRES = 0.1;
const MOST_HEAPS = 8;
/** Of more readings than this only every so many'th is looked at: a place is known from fewer. Our own choice. */
const MOST_READINGS = 100_000;
/** A reading of a sensor that only reports changes stands for at most this long (milliseconds): the rest may be an outage. Our own choice. */
const LONGEST_STAND_MS = 86_400_000;

/**
 * Where the readings outside `band` rest when the bay is empty: of the places that hold a tenth of that time, in three absences or more, the
 * farthest, for a vehicle comes between the meter and what it else sees (common practice, no source). Around it six standard
 * deviations and the allowance for temperature, as for a suggested band, never into the band; and everything farther. Null
 * where no place is one. Readings in time order, NaN for those that say nothing.
 */
export function learnEmpty(times: Float64Array, values: Float64Array, band: Band, expectMs: number | null): EmptyReading | null {
  const outside = outsideOf(times, values, band, expectMs);
  const least = LEAST_EMPTY_SHARE * outside.totalMs;
  const maximum = band.maximumMetres ?? Infinity;
  const noEchoes = outside.echoless;
  const nothingElse = outside.echoes.length === 0;
  if (nothingElse || (noEchoes.absences >= FEWEST_ABSENCES && noEchoes.ms >= LEAST_NO_ECHO_SHARE * outside.totalMs)) return { ranges: [], farthestMetres: maximum };

  const places = heapsOf(outside.echoes, least).filter(({ absences }) => absences >= FEWEST_ABSENCES);
  const place = places.reduce<Heap | null>((best, one) => (best === null || one.metres > best.metres ? one : best), null);
  if (place === null) return null;
  const [from, to] = [place.metres - place.room, place.metres + place.room];
  if (place.metres > band.farMetres) {
    return { ranges: [{ nearMetres: Math.max(from, band.farMetres + band.slackMetres), farMetres: Infinity }], farthestMetres: Math.min(maximum, Math.max(to, place.farthestMetres)) };
  }
  const farMetres = Math.min(to, band.nearMetres - band.slackMetres);
  return { ranges: [{ nearMetres: Math.max(0, from), farMetres }], farthestMetres: farMetres };
}

/** {@link learnEmpty} for every distance signal of which the site file does not say how an empty bay reads; null where it cannot be learnt. */
export function learnEmpties(site: Pick<Site, "signals">, readings: ReadonlyMap<string, Readings>): Map<string, EmptyReading | null> {
  return new Map(
    site.signals.flatMap(({ id, reading, band, expectMs }) => {
      if (reading.form !== "distance" || band === null || band.empty !== undefined) return [];
      const own = readings.get(id);
      if (own === undefined) return [[id, null] as const];
      const { times, values } = unpackedReadings(own);
      return [[id, learnEmpty(times, values, band, expectMs)] as const];
    }),
  );
}

/** The ranges alone, of those that were learnt. */
export function rangesOf(learnt: ReadonlyMap<string, EmptyReading | null>): Map<string, readonly DistanceRange[]> {
  return new Map([...learnt].flatMap(([signal, empty]) => (empty === null ? [] : [[signal, empty.ranges] as const])));
}

interface Echo {
  readonly metres: number;
  /** How long it stood. */
  readonly ms: number;
  readonly absence: number;
}

interface Outside {
  readonly echoes: Echo[];
  readonly echoless: { readonly ms: number; readonly absences: number };
  readonly totalMs: number;
}

function outsideOf(times: Float64Array, values: Float64Array, band: Band, expectMs: number | null): Outside {
  const states = bandStates(band, values);
  const longest = expectMs === null ? LONGEST_STAND_MS : SILENCE_FACTOR * expectMs;
  const stride = Math.ceil(times.length / MOST_READINGS);
  const echoes: Echo[] = [];
  const echolessIn = new Set<number>();
  let [echolessMs, totalMs, absence] = [0, 0, 0];
  let wasOutside = false;
  for (let i = 0; i < times.length; i += 1) {
    const metres = values[i]!;
    if (Number.isNaN(metres)) continue;
    const isOutside = states[i] !== ON;
    if (isOutside) {
      if (!wasOutside) absence += 1;
      const ms = Math.min(longest, (times[i + 1] ?? times[i]!) - times[i]!);
      totalMs += ms;
      if (metres < (band.maximumMetres ?? Infinity)) {
        if (i % stride === 0) echoes.push({ metres, ms: ms * stride, absence });
      } else {
        echolessMs += ms;
        echolessIn.add(absence);
      }
    }
    wasOutside = isOutside;
  }
  return { echoes, echoless: { ms: echolessMs, absences: echolessIn.size }, totalMs };
}

interface Heap {
  readonly metres: number;
  readonly room: number;
  readonly absences: number;
  readonly farthestMetres: number;
}

/** Places at which readings rest for `leastMs` or more, the fullest first: each is taken out before the next is looked for. */
function heapsOf(echoes: readonly Echo[], leastMs: number): Heap[] {
  const heaps: Heap[] = [];
  let left = echoes.toSorted((a, b) => a.metres - b.metres);
  while (left.length > 0 && heaps.length < MOST_HEAPS) {
    const core = fullestWindow(left);
    if (core.ms < leastMs) break;
    const mode = modeOf(Float64Array.from(left.slice(core.from, core.to), ({ metres }) => metres));
    const room = Math.max(LEAST_APART_METRES, BAND_DEVIATIONS * mode.deviationMetres + temperatureShare() * mode.metres);
    const sorted = Float64Array.from(left, ({ metres }) => metres);
    const [from, to] = [firstAtOrAfter(sorted, mode.metres - room), firstAtOrAfter(sorted, mode.metres + room)];
    heaps.push({ metres: mode.metres, room, absences: new Set(left.slice(from, to).map(({ absence }) => absence)).size, farthestMetres: sorted[to - 1]! });
    left = [...left.slice(0, from), ...left.slice(to)];
  }
  return heaps;
}

/** The readings within {@link WINDOW_METRES} that stood longest together: `[from, to)` of the sorted echoes. */
function fullestWindow(sorted: readonly Echo[]): { from: number; to: number; ms: number } {
  let best = { from: 0, to: 0, ms: -1 };
  let [from, ms] = [0, 0];
  for (let to = 0; to < sorted.length; to += 1) {
    ms += sorted[to]!.ms;
    while (sorted[to]!.metres - sorted[from]!.metres > WINDOW_METRES) {
      ms -= sorted[from]!.ms;
      from += 1;
    }
    if (ms > best.ms) best = { from, to: to + 1, ms };
  }
  return best;
}
