import type { Band, SignalSpec } from "../../site/site.js";
import { OFF, ON, UNKNOWN } from "../../timeline/timeline.js";

/**
 * Metres by which a reading may miss an edge and still count as on it. Readings and edges are both turned from feet,
 * inches or millimetres into metres, and `4.7 ft + 0.1 ft` need not be the same double as `4.8 ft`. A micrometre is far
 * below what any meter resolves and far above the rounding (about 1e-15 m). Reason as given; no source.
 */
export const EDGE_TOLERANCE_METRES = 1e-6;

/**
 * A distance that is neither in the band nor where an empty bay reads. It is unknown, but not lost: the meter spoke.
 * One caught while a vehicle drives in must not undo the turn, so it is kept apart until it has settled.
 */
export const BETWEEN = 3;

/** What one look at a reading needs to know of its signal. */
type ReadingRule = Pick<SignalSpec, "id" | "reading" | "band">;

/**
 * What each reading says by itself, before settling: 0 off, 1 on, 2 unknown (NaN: the sensor itself does not know), 3
 * {@link BETWEEN}. Same length as `values` (metres for distance and position, 1/0 for words).
 * @throws RangeError when a distance or position signal has no band: the site file was not checked.
 */
export function readingStates(rule: ReadingRule, values: Float64Array): Uint8Array {
  if (rule.reading.form === "words") return wordStates(values);
  if (rule.band === null) throw new RangeError(`Signal ${rule.id} is read as a ${rule.reading.form} but has no band.`);
  return bandStates(rule.band, values);
}

/** Intake has turned words into numbers: any number but 0 is on. */
function wordStates(values: Float64Array): Uint8Array {
  const states = new Uint8Array(values.length);
  for (let i = 0; i < values.length; i += 1) states[i] = Number.isNaN(values[i]) ? UNKNOWN : values[i] === 0 ? OFF : ON;
  return states;
}

/**
 * On inside `[near, far]` metres, both edges included; once on, on inside `[near − slack, far + slack]` (hysteresis).
 * At or past the maximum the meter heard no echo: off, whatever the band. NaN is unknown. Anything else is off where
 * the band does not say how an empty bay reads; where it does, off there (edges included, no slack) and {@link BETWEEN}
 * elsewhere. The last known state is remembered across NaN and silences: what is measured does not move because the
 * meter was deaf. The very first known reading is judged by the plain band. Linear.
 */
export function bandStates(band: Band, values: Float64Array): Uint8Array {
  const states = new Uint8Array(values.length);
  const maximum = (band.maximumMetres ?? Infinity) - EDGE_TOLERANCE_METRES;
  let wasOn = false;
  for (let i = 0; i < values.length; i += 1) {
    // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the loop ends at the last value
    const metres = values[i]!;
    if (Number.isNaN(metres)) {
      states[i] = UNKNOWN;
      continue;
    }
    const widening: number = (wasOn ? band.slackMetres : 0) + EDGE_TOLERANCE_METRES;
    wasOn = metres < maximum && metres >= band.nearMetres - widening && metres <= band.farMetres + widening;
    states[i] = wasOn ? ON : metres >= maximum || readsEmpty(band, metres) ? OFF : BETWEEN;
  }
  return states;
}

function readsEmpty({ empty }: Band, metres: number): boolean {
  return (
    empty === undefined ||
    empty.some(({ nearMetres, farMetres }) => metres >= nearMetres - EDGE_TOLERANCE_METRES && metres <= farMetres + EDGE_TOLERANCE_METRES)
  );
}
