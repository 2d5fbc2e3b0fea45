import { UNKNOWN } from "../../timeline/timeline.js";
import type { Interval } from "../../ground/intervals.js";

/**
 * A periodic signal is silent when nothing came for longer than this many times the longest usual time between readings
 * (`expect`, no unit): two readings may get lost and a third may be half a period late. Common practice, no source.
 */
export const SILENCE_FACTOR = 2.5;

/**
 * Stretches without any reading for longer than {@link SILENCE_FACTOR} × `expectMs`, from the last reading to the next;
 * after the very last reading to Infinity when `end` is further away than that. A "lost" is a reading here: the sensor
 * spoke. Signals that only report changes (`expectMs` null) are never silent. In order, disjoint; may touch.
 */
export function silencesOf(times: Float64Array, expectMs: number | null, end: number): Interval[] {
  const silences: Interval[] = [];
  if (expectMs === null) return silences;
  const longest = SILENCE_FACTOR * expectMs;
  times.forEach((at, i) => {
    const next = times[i + 1];
    if ((next ?? end) - at > longest) silences.push({ from: at, to: next ?? Infinity });
  });
  return silences;
}

/** A stretch over which a signal that was known is not: a silence, a "lost", or both in a row. */
export interface Outage {
  /** When it was last known (silence), or when it said that it no longer knows (lost). */
  readonly from: number;
  /** When it went dark at the latest: `from` when lost, `from + expect` when silent. */
  readonly darkBy: number;
  /** Its next known reading; Infinity without one. */
  readonly to: number;
  /** It said so itself, so that `from` is exact. */
  readonly lost: boolean;
}

/**
 * The outages of one signal, in order and disjoint. `states[i]` is what the reading at `times[i]` says; `end` as in
 * {@link silencesOf}. The time before the first known reading is no outage: the signal did not *go* dark. Linear.
 */
export function outagesOf(times: Float64Array, states: Uint8Array, expectMs: number | null, end: number): Outage[] {
  const outages: Outage[] = [];
  let open: Omit<Outage, "to"> | null = null;
  let everKnown = false;
  for (let i = 0; i < times.length; i += 1) {
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the loop ends at the last instant
    const at = times[i]!;
    if (states[i] === UNKNOWN) {
      if (everKnown) open ??= { from: at, darkBy: at, lost: true };
      continue;
    }
    if (open !== null && open.from < at) outages.push({ ...open, to: at });
    open = null;
    everKnown = true;
    const next = times[i + 1] ?? end;
    if (expectMs !== null && next - at > SILENCE_FACTOR * expectMs) open = { from: at, darkBy: at + expectMs, lost: false };
  }
  if (open !== null) outages.push({ ...open, to: Infinity });
  return outages;
}
