/* eslint-disable @typescript-eslint/no-non-null-assertion --
   readings come in long parallel arrays, and each index runs below their length; a place holds one reading at least */
import { maxIndex } from "d3-array";
import type { Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import { bandStates } from "../signals/reading-states.js";
import { SILENCE_FACTOR } from "../signals/silence.js";
import type { Band, DistanceRange, Site } from "../../site/site.js";
import { ON } from "../../timeline/timeline.js";
import { LEAST_APART_METRES } from "./other-modes.js";
import { modeOf } from "./modes.js";
import { BAND_DEVIATIONS, temperatureShare } from "./suggest.js";
import { stableOrder } from "../../statistics/stable-order.js";
import { firstAtOrAfter } from "../../ground/search.js";
import { DAY_MS } from "../../ground/units.js";

/** How an empty bay reads, learnt from a meter's own readings. Metres. */
export interface EmptyReading {
  /**
   * None if an empty bay gives no echo, which counts as empty anyway. `farMetres` is Infinity beyond the band: only an
   * empty bay lets the meter see farther.
   */
  readonly ranges: readonly DistanceRange[];
  /** The farthest reading there, to be written as the far end in a site file. The maximum if there was no echo. */
  readonly farthestMetres: number;
}

/**
 * An absence is a run of readings outside the band. A place must recur in this many to be the bay's own: a visitor
 * stands there once. Our own choice.
 */
const FEWEST_ABSENCES = 3;
/** An empty bay reads the same for at least this share of the time outside the band. Our own choice. */
const LEAST_EMPTY_SHARE = 0.1;
/** If no echo fills at least this share of the time outside the band, the empty bay gives no echo. Our own choice. */
const LEAST_NO_ECHO_SHARE = 0.5;
/**
 * Readings within a window of this width (metres) are one place: several times the noise of a good meter. Our own
 * choice.
 */
const WINDOW_METRES = 0.1;
const MOST_PLACES = 8;
/** More readings than this are thinned out: a place is known from fewer. Our own choice. */
const MOST_READINGS = 100_000;
/**
 * A reading of a sensor that only reports changes holds for at most this long (milliseconds): the rest may be an
 * outage. Our own choice.
 */
const LONGEST_STAND_MS = DAY_MS;

/**
 * Where the readings outside `band` rest when the bay is empty: the farthest place that holds a tenth of that time, in
 * three absences or more, since a vehicle comes between the meter and what it sees otherwise (common practice, no
 * source). Around it six standard deviations and the allowance for temperature, as for a suggested band, never into the
 * band; and everything farther. Null if there is no such place. Readings in time order, NaN for those that say nothing.
 */
function learnEmpty(times: Float64Array, values: Float64Array, band: Band, expectMs: number | null): EmptyReading | null {
  const outside = outsideOf(times, values, band, expectMs);
  const least = LEAST_EMPTY_SHARE * outside.totalMs;
  const maximum = band.maximumMetres ?? Infinity;
  const { echoes, echoless } = outside;
  const givesNoEcho = echoless.absences >= FEWEST_ABSENCES && echoless.ms >= LEAST_NO_ECHO_SHARE * outside.totalMs;
  if (echoes.metres.length === 0 || givesNoEcho) return { ranges: [], farthestMetres: maximum };

  const places = placesOf(echoes, least).filter(({ absences }) => absences >= FEWEST_ABSENCES);
  const place = places[maxIndex(places, ({ metres }) => metres)];
  if (place === undefined) return null;
  const [from, to] = [place.metres - place.room, place.metres + place.room];
  if (place.metres > band.farMetres) {
    return {
      ranges: [{ nearMetres: Math.max(from, band.farMetres + band.slackMetres), farMetres: Infinity }],
      farthestMetres: Math.min(maximum, Math.max(to, place.farthestMetres)),
    };
  }
  const farMetres = Math.min(to, band.nearMetres - band.slackMetres);
  return { ranges: [{ nearMetres: Math.max(0, from), farMetres }], farthestMetres: farMetres };
}

/**
 * How an empty bay reads (`learnEmpty`) to every distance signal whose site file does not say it; null where it cannot
 * be learnt.
 */
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

/** The learnt ranges alone. */
export function rangesOf(learnt: ReadonlyMap<string, EmptyReading | null>): Map<string, readonly DistanceRange[]> {
  return new Map([...learnt].flatMap(([signal, empty]) => (empty === null ? [] : [[signal, empty.ranges] as const])));
}

/** Readings outside the band that had an echo, in parallel arrays: thousands of them come from each meter. */
interface Echoes {
  readonly metres: Float64Array;
  /** How long each held. */
  readonly ms: Float64Array;
  /** The absence that it belongs to, counted from 1. */
  readonly absence: Uint32Array;
}

interface Outside {
  readonly echoes: Echoes;
  readonly echoless: { readonly ms: number; readonly absences: number };
  readonly totalMs: number;
}

function outsideOf(times: Float64Array, values: Float64Array, band: Band, expectMs: number | null): Outside {
  const states = bandStates(band, values);
  const longest = expectMs === null ? LONGEST_STAND_MS : SILENCE_FACTOR * expectMs;
  const stride = Math.ceil(times.length / MOST_READINGS);
  const most = Math.ceil(times.length / stride);
  const [metresOf, msOf, absenceOf] = [new Float64Array(most), new Float64Array(most), new Uint32Array(most)];
  let count = 0;
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
        if (i % stride === 0) {
          metresOf[count] = metres;
          msOf[count] = ms * stride;
          absenceOf[count] = absence;
          count += 1;
        }
      } else {
        echolessMs += ms;
        echolessIn.add(absence);
      }
    }
    wasOutside = isOutside;
  }
  const echoes = { metres: metresOf.subarray(0, count), ms: msOf.subarray(0, count), absence: absenceOf.subarray(0, count) };
  return { echoes, echoless: { ms: echolessMs, absences: echolessIn.size }, totalMs };
}

/** Readings that rest at one place. */
interface Place {
  readonly metres: number;
  readonly room: number;
  readonly absences: number;
  readonly farthestMetres: number;
}

/**
 * Places at which readings rest for `leastMs` or more, the fullest first: each is removed before the next is sought.
 */
function placesOf(echoes: Echoes, leastMs: number): Place[] {
  const places: Place[] = [];
  let left = inOrder(echoes, stableOrder(echoes.metres));
  while (left.metres.length > 0 && places.length < MOST_PLACES) {
    const core = fullestWindow(left);
    if (core.ms < leastMs) break;
    const mode = modeOf(left.metres.slice(core.from, core.to));
    const room = Math.max(LEAST_APART_METRES, BAND_DEVIATIONS * mode.deviationMetres + temperatureShare() * mode.metres);
    const [from, to] = [firstAtOrAfter(left.metres, mode.metres - room), firstAtOrAfter(left.metres, mode.metres + room)];
    places.push({
      metres: mode.metres,
      room,
      absences: new Set(left.absence.subarray(from, to)).size,
      farthestMetres: left.metres[to - 1]!,
    });
    left = inOrder(left, Uint32Array.from({ length: left.metres.length - (to - from) }, (_, i) => (i < from ? i : i + to - from)));
  }
  return places;
}

/** The echoes at these indices, in their order. */
function inOrder({ metres, ms, absence }: Echoes, order: Uint32Array): Echoes {
  const count = order.length;
  const found = { metres: new Float64Array(count), ms: new Float64Array(count), absence: new Uint32Array(count) };
  for (let i = 0; i < count; i += 1) {
    const from = order[i]!;
    found.metres[i] = metres[from]!;
    found.ms[i] = ms[from]!;
    found.absence[i] = absence[from]!;
  }
  return found;
}

/** The readings within {@link WINDOW_METRES} that held longest together: `[from, to)` of the echoes, sorted by distance. */
function fullestWindow({ metres, ms: held }: Echoes): { from: number; to: number; ms: number } {
  let best = { from: 0, to: 0, ms: -1 };
  let [from, ms] = [0, 0];
  for (let to = 0; to < metres.length; to += 1) {
    ms += held[to]!;
    while (metres[to]! - metres[from]! > WINDOW_METRES) {
      ms -= held[from]!;
      from += 1;
    }
    if (ms > best.ms) best = { from, to: to + 1, ms };
  }
  return best;
}
