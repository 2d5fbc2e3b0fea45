import { type Interval, intersection } from "../../ground/intervals.js";
import { MINUTE_MS, SECOND_MS } from "../../ground/units.js";
import type { Readings } from "../../intake/readings.js";
import { advance, lastKnownBefore, readingCursor } from "../../intake/unpack.js";
import type { BandAdvice } from "../../result/witnesses.js";
import type { TwinLane, TwinPicture } from "../../result/sensors.js";
import { writtenIn } from "../../site/length.js";
import type { SignalSpec } from "../../site/site.js";
import { restrict } from "../../timeline/restrict.js";
import { ON, stateNames, type Timeline, type TruthState, UNKNOWN } from "../../timeline/timeline.js";
import type { SignalAccount } from "../../truth/signals/account.js";

/** Before and after the stretch, the window shows this share of its length, and no less than five minutes. Our own choice. */
const AROUND_SHARE = 0.5;
const LEAST_AROUND_MS = 5 * MINUTE_MS;
/** The window is cut into this many parts, and the least and the most reading of each are kept: a picture is hardly wider in px. */
const PARTS = 90;
/** An empty bay reads this near to its usual distance: within this many deviations, or this share of it where that is more. Our own choice. */
const EMPTY_DEVIATIONS = 3;
const EMPTY_SHARE = 0.03;

/** One signal with what was heard of it. */
export interface HeardSignal {
  readonly spec: SignalSpec;
  readonly account: SignalAccount;
  readonly readings: Readings | undefined;
  readonly advice: BandAdvice | undefined;
}

/** What a picture is made from: the sensor, its twin if it has one, what most likely happened, and the words for the subject's states. */
export interface PictureInput {
  readonly own: HeardSignal;
  readonly twin: HeardSignal | null;
  readonly likely: Timeline;
  readonly words: TwinPicture["words"];
}

/** What to draw of a stretch during which most likely `truth` was so: the sensor and its twin around it. */
export function twinPicture(stretch: Interval & { readonly truth: TruthState }, { own, twin, likely, words }: PictureInput): TwinPicture {
  const around = Math.max(LEAST_AROUND_MS, AROUND_SHARE * (stretch.to - stretch.from));
  const from = Math.max(likely.start, stretch.from - around);
  const to = Math.min(likely.end, stretch.to + around);
  return {
    from,
    to,
    own: laneOf(own, { from, to }),
    twin: twin === null ? null : laneOf(twin, { from, to }),
    truth: stepsOf(likely, { from, to }),
    words,
    expected: expectedPlace(own, stretch.truth),
  };
}

function laneOf(heard: HeardSignal, window: Interval): TwinLane {
  const { spec, account } = heard;
  const steps = stepsOf(account.account, window);
  if (spec.reading.form !== "distance" || spec.band === null) return { signal: spec.id, steps, meter: null };
  const { unit } = spec.reading;
  const inUnit = writtenIn(unit);
  const { nearMetres, farMetres } = spec.band;
  const readings = thinned(heard, window).map(([at, metres]): [number, number | null] => [Math.round((at - window.from) / SECOND_MS), metres === null ? null : inUnit(metres)]);
  const most = Math.max(...readings.map(([, value]) => value ?? 0), inUnit(nearMetres));
  return { signal: spec.id, steps, meter: { unit, band: { near: inUnit(nearMetres), far: Number.isFinite(farMetres) ? inUnit(farMetres) : most }, readings } };
}

/** The first, the least and the most reading of each part of the window, in order of time, and null where a silence begins. */
function thinned({ account, readings }: HeardSignal, window: Interval): [number, number | null][] {
  const partMs = (window.to - window.from) / PARTS;
  const kept: [number, number | null][] = intersection(account.silences, [window]).map(({ from }) => [from + 1, null]);
  for (const packed of readings?.parts ?? []) {
    if (packed.last < window.from) continue;
    // What it read last before the window holds at its beginning.
    const before = lastKnownBefore(packed, window.from);
    const cursor = readingCursor(packed, Number.isFinite(before) ? before : window.from);
    let part = -1;
    let [least, most]: [[number, number] | null, [number, number] | null] = [null, null];
    const close = (): void => {
      if (least !== null) kept.push(least);
      if (most !== null && most !== least) kept.push(most);
      [least, most] = [null, null];
    };
    while (advance(cursor) && cursor.instant < window.to) {
      const { value } = cursor;
      const instant = Math.max(cursor.instant, window.from);
      if (Number.isNaN(value)) continue;
      const own = Math.floor((instant - window.from) / partMs);
      if (own !== part) close();
      part = own;
      if (least === null || value < least[1]) least = [instant, value];
      if (most === null || value > most[1]) most = [instant, value];
    }
    close();
  }
  return kept.sort(([a], [b]) => a - b);
}

/** Where the readings should have been: in the band with a vehicle there, at the empty bay's own place without one. */
function expectedPlace({ spec, advice }: HeardSignal, truth: TruthState): TwinPicture["expected"] {
  if (spec.reading.form !== "distance" || spec.band === null || truth === UNKNOWN) return null;
  const inUnit = writtenIn(spec.reading.unit);
  const { nearMetres, farMetres, maximumMetres } = spec.band;
  if (truth === ON) return Number.isFinite(farMetres) ? [inUnit(nearMetres), inUnit(farMetres)] : null;
  const place = advice?.empty?.metres ?? (advice?.emptyIsNoEcho === true ? maximumMetres : null);
  if (place === null) return null;
  const reach = Math.max(EMPTY_SHARE * place, EMPTY_DEVIATIONS * (advice?.empty?.deviationMetres ?? 0));
  return [inUnit(place - reach), inUnit(place + reach)];
}

function stepsOf(timeline: Timeline, { from, to }: Interval): TwinLane["steps"] {
  const { times, states } = restrict(timeline, from, to);
  return Array.from(times, (at, i) => [Math.round((at - from) / SECOND_MS), stateNames[states[i] as TruthState]]);
}
