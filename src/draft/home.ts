import { HOUR_MS } from "../ground/units.js";
import { metresBetween, type Place } from "../intake/place.js";
import type { FoundSignal, HereFound } from "./found.js";
import { restAt, restingPlace, type Places } from "./resting-place.js";

/** A proposal for where home is. The place itself goes into the site file and nowhere else. */
export interface HomeFound {
  /** Degrees, rounded to four decimals. */
  readonly latitude: number;
  readonly longitude: number;
  /** Without the place. */
  readonly evidence: string;
}

/** A place that stands out has at least this part of the time (our own choice). */
const LEAST_SHARE = 0.25;
/** And this much of it, all signals together (our own choice). */
const LEAST_REST_MS = 8 * HOUR_MS;
/** As near home counts as here where places do not waver more (our own choice). */
const RADIUS_METRES = 150;
const SLACK_METRES = 30;
/** Evidence lists no more signals than this. */
const MOST_LISTED = 6;

/**
 * Home is taken to be where those who carry position signals rest most; null where no place stands out. The signals come
 * back with their states, near or away, if there is a home. `places` are by signal: let them go after the call.
 */
export function findHome(
  signals: readonly FoundSignal[],
  places: ReadonlyMap<string, Places>,
): { readonly signals: readonly FoundSignal[]; readonly home: HomeFound | null } {
  const tracked = signals.flatMap((signal) => {
    const own = signal.reading.form === "position" ? places.get(signal.id) : undefined;
    return own === undefined ? [] : [{ signal, own }];
  });
  const place = restingPlace(tracked.map(({ own }) => own));
  if (place === null || place.restMs < LEAST_REST_MS || place.restMs < LEAST_SHARE * place.totalMs) return { signals, home: null };
  const settled = new Map<FoundSignal, FoundSignal>();
  const said: string[] = [];
  for (const { signal, own } of tracked) {
    const { ms, totalMs, scatterMetres } = restAt(place, own);
    const here = hereOf(scatterMetres);
    settled.set(signal, { ...signal, reading: { form: "position", here }, states: statesAt(place, own, here) });
    said.push(`${signal.id} rests there ${percent(ms, totalMs)} of its time (${hours(ms)} of ${hours(totalMs)})`);
  }
  const listed = `${said.slice(0, MOST_LISTED).join(", ")}${said.length > MOST_LISTED ? ", …" : ""}`;
  const evidence = `${listed}; at the place with the next most rest ${percent(place.nextMs, place.totalMs)}`;
  return {
    signals: signals.map((signal) => settled.get(signal) ?? signal),
    home: { latitude: place.latitude, longitude: place.longitude, evidence },
  };
}

/** Twice as far as places waver, and half as much again before they count as away; never less than our own choice. */
function hereOf(scatterMetres: number | null): HereFound {
  return {
    radiusMetres: Math.max(RADIUS_METRES, 50 * Math.ceil((scatterMetres ?? 0) / 25)),
    slackMetres: Math.max(SLACK_METRES, 10 * Math.ceil((scatterMetres ?? 0) / 10)),
    scatterMetres: scatterMetres === null ? null : Math.ceil(scatterMetres),
  };
}

/** 1 near home, 0 away, NaN where a reading has no place; once near, slack must be passed too before it is away. */
function statesAt(home: Place, { latitudes, longitudes }: Places, { radiusMetres, slackMetres }: HereFound): Float64Array {
  let isHere = false;
  return latitudes.map((latitude, i) => {
    const longitude = longitudes[i] ?? Number.NaN;
    if (Number.isNaN(latitude) || Number.isNaN(longitude)) return Number.NaN;
    isHere = metresBetween(home, { latitude, longitude }) <= radiusMetres + (isHere ? slackMetres : 0);
    return isHere ? 1 : 0;
  });
}

function percent(part: number, whole: number): string {
  return `${Math.round((100 * part) / (whole || 1))} %`;
}

function hours(ms: number): string {
  return `${Math.round(ms / HOUR_MS).toLocaleString("en")} h`;
}
