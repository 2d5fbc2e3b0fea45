/* eslint-disable @typescript-eslint/no-non-null-assertion --
   loops over readings are the slow part here, and each index runs below the length of its array */
import type { Readings } from "../../intake/readings.js";
import { unpackedReadings } from "../../intake/unpack.js";
import type { ReferenceBook } from "../reference/reference.js";
import { metresPerUnit } from "../../site/length.js";
import type { Band, DistanceUnit, SignalSpec, Site } from "../../site/site.js";
import { ON, UNKNOWN, type Timeline } from "../../timeline/timeline.js";
import { FEWEST_READINGS, type Histogram, histogramOf, LEAST_SHARE, type Mode, modeOf, twoModes } from "./modes.js";
import { looksOf, type Side } from "./looks.js";
import { otherModes } from "./other-modes.js";
import { BAND_DEVIATIONS, suggestBand, temperatureShare } from "./suggest.js";
import type { Interval } from "../../ground/intervals.js";
import type { BandAdvice } from "../../result/witnesses.js";

/**
 * How far a mode lies from an edge of the present band, in metres and in the mode's standard deviations; negative: on
 * the wrong side.
 */
export interface Margin {
  readonly metres: number;
  readonly deviations: number;
}

/** Bins of the histogram that is shown. Our own choice: fine enough for two modes, coarse enough to draw. */
const SHOWN_BINS = 80;
/** Share of the readings that the histogram leaves out at either end. Our own choice. */
const CUT = 0.001;

/**
 * Band advice for every distance signal of the site, in its order, from the readings within `period`. A reference
 * without the signal tells which mode is "occupied"; where it knows nothing, the rule that a vehicle comes between the
 * meter and what it sees in an empty bay (common practice, no source).
 */
export function adviseBands(site: Site, readings: ReadonlyMap<string, Readings>, book: ReferenceBook, period: Interval): BandAdvice[] {
  return site.signals.flatMap((signal) => {
    if (signal.reading.form !== "distance" || signal.band === null) return [];
    return [
      adviseBand(
        signal,
        signal.reading.unit,
        signal.band,
        within(readings.get(signal.id), period),
        book(signal.subject, [signal.id]).timeline,
      ),
    ];
  });
}

/** Readings of one signal, without those that say nothing. */
interface Distances {
  readonly times: Float64Array;
  readonly values: Float64Array;
}

/** Advice for one signal; `reference` is its subject's, without it. */
function adviseBand(signal: SignalSpec, unit: DistanceUnit, band: Band, distances: Distances, reference: Timeline): BandAdvice {
  const maximum = band.maximumMetres ?? Infinity;
  const echoes = distances.values.filter((value) => value < maximum);
  const noEcho = distances.values.length - echoes.length;
  const sorted = echoes.sort();
  const split = twoModes(sorted);
  const noEchoIsMode = noEcho >= Math.max(FEWEST_READINGS, LEAST_SHARE * distances.values.length);
  const told = tellApart(split.modes, noEchoIsMode, sorted, distances, split.otsuMetres, reference);
  const { occupied, empty } = told;
  const others = occupied === null ? [] : otherModes(distances.times, distances.values, occupied, empty, band, reference);
  const threshold = split.otsuMetres === null || occupied === null || empty === null ? null : (split.mixtureMetres ?? split.otsuMetres);
  const suggestion =
    occupied === null
      ? { band: null, why: told.why ?? split.why ?? "no occupied mode", evidence: [] }
      : suggestBand(occupied, empty, threshold, others);
  const suggested = suggestion.band;
  const margins = marginsOf(occupied, empty, band);
  return {
    signal: signal.id,
    subject: signal.subject,
    unit,
    readings: distances.values.length,
    noEcho,
    histogram: sorted.length === 0 ? null : shownHistogram(sorted),
    occupied,
    empty,
    emptyIsNoEcho: occupied !== null && empty === null,
    looks: looksOf(
      distances.times,
      distances.values,
      sides(occupied, empty, maximum, split.otsuMetres),
      occupied !== null && empty === null,
    ),
    thresholds: {
      otsuMetres: split.modes === null ? null : split.otsuMetres,
      mixtureMetres: split.modes === null ? null : split.mixtureMetres,
      mixture: split.modes === null ? null : (split.mixture?.components ?? null),
    },
    present: { nearMetres: band.nearMetres, farMetres: band.farMetres, slackMetres: band.slackMetres, maximumMetres: band.maximumMetres },
    margins,
    otherModes: others,
    temperatureMetres: occupied === null ? null : temperatureShare() * occupied.metres,
    suggested: suggested === null ? null : { ...suggested, written: writtenBand(suggested, unit) },
    presentHolds:
      suggested === null
        ? null
        : band.nearMetres <= suggested.nearMetres &&
          band.farMetres >= suggested.farMetres &&
          (margins.emptyToBand === null || margins.emptyToBand.deviations >= BAND_DEVIATIONS),
    why: suggestion.why,
    evidence: suggestion.evidence,
  };
}

/** Without the outermost readings, which would squeeze the rest into a few bins. */
function shownHistogram(sorted: Float64Array): Histogram {
  const last = sorted.length - 1;
  return histogramOf(sorted, sorted[Math.floor(CUT * last)]!, sorted[Math.ceil((1 - CUT) * last)]!, SHOWN_BINS);
}

interface Told {
  readonly occupied: Mode | null;
  readonly empty: Mode | null;
  readonly why: string | null;
}

/** Which mode means occupied. */
function tellApart(
  modes: readonly [Mode, Mode] | null,
  noEchoIsMode: boolean,
  sorted: Float64Array,
  distances: Distances,
  otsuMetres: number | null,
  reference: Timeline,
): Told {
  if (modes === null || otsuMetres === null) {
    if (sorted.length < FEWEST_READINGS)
      return { occupied: null, empty: null, why: "no vehicle was ever seen: too few readings with an echo" };
    return noEchoIsMode ? { occupied: modeOf(sorted), empty: null, why: null } : { occupied: null, empty: null, why: null };
  }
  const [onBelow, onAbove] = sharesOn(distances, reference, otsuMetres);
  const lowIsOccupied = onBelow === null || onAbove === null || onBelow >= onAbove;
  return { occupied: modes[lowIsOccupied ? 0 : 1], empty: modes[lowIsOccupied ? 1 : 0], why: null };
}

/**
 * What a reading stands for: its side of the threshold between two modes; with one mode, any echo stands for occupied.
 */
function sides(occupied: Mode | null, empty: Mode | null, maximum: number, otsuMetres: number | null): (metres: number) => Side {
  if (occupied === null) return () => null;
  if (empty === null || otsuMetres === null) return (metres) => (metres < maximum ? "occupied" : null);
  const [below, above] = occupied.metres < empty.metres ? (["occupied", "empty"] as const) : (["empty", "occupied"] as const);
  return (metres) => (metres >= maximum ? null : metres < otsuMetres ? below : above);
}

/**
 * How often the reference says on, of where it knows, at readings below `limit` and at the others; null with fewer than
 * {@link FEWEST_READINGS}.
 */
function sharesOn({ times, values }: Distances, reference: Timeline, limit: number): readonly [number | null, number | null] {
  const [below, above] = [
    { on: 0, known: 0 },
    { on: 0, known: 0 },
  ];
  let step = 0;
  for (let i = 0; i < times.length; i += 1) {
    while (step + 1 < reference.times.length && reference.times[step + 1]! <= times[i]!) step += 1;
    if (reference.states[step] === UNKNOWN) continue;
    const side = values[i]! < limit ? below : above;
    side.known += 1;
    if (reference.states[step] === ON) side.on += 1;
  }
  const share = ({ on, known }: { readonly on: number; readonly known: number }): number | null =>
    known < FEWEST_READINGS ? null : on / known;
  return [share(below), share(above)];
}

function marginsOf(occupied: Mode | null, empty: Mode | null, band: Band): BandAdvice["margins"] {
  const margin = (metres: number, mode: Mode): Margin => ({ metres, deviations: metres / mode.deviationMetres });
  return {
    occupiedToNear: occupied === null ? null : margin(occupied.metres - band.nearMetres, occupied),
    occupiedToFar: occupied === null ? null : margin(band.farMetres - occupied.metres, occupied),
    emptyToBand: empty === null ? null : margin(Math.max(empty.metres - band.farMetres, band.nearMetres - empty.metres), empty),
  };
}

/** To about a centimetre, rounded outwards. */
function writtenBand({ nearMetres, farMetres }: { readonly nearMetres: number; readonly farMetres: number }, unit: DistanceUnit): string {
  const decimals = { m: 2, cm: 0, mm: -1, ft: 1, in: 0 }[unit];
  const step = 10 ** -decimals;
  const text = (metres: number, round: (x: number) => number): string =>
    (round(metres / metresPerUnit[unit] / step) * step).toFixed(Math.max(0, decimals));
  return `present: [${text(nearMetres, Math.floor)}, ${text(farMetres, Math.ceil)}]`;
}

function within(readings: Readings | undefined, period: Interval): Distances {
  if (readings === undefined) return { times: new Float64Array(0), values: new Float64Array(0) };
  const { times: allTimes, values: allValues } = unpackedReadings(readings);
  const times = new Float64Array(allTimes.length);
  const values = new Float64Array(allTimes.length);
  let count = 0;
  for (let i = 0; i < allTimes.length; i += 1) {
    const at = allTimes[i]!;
    if (at < period.from || at >= period.to || Number.isNaN(allValues[i])) continue;
    times[count] = at;
    values[count] = allValues[i]!;
    count += 1;
  }
  return { times: times.subarray(0, count), values: values.subarray(0, count) };
}
