import { advance, readingCursor } from "../../intake/unpack.js";
import type { Readings } from "../../intake/readings.js";
import { metresPerUnit } from "../../site/length.js";
import type { Site } from "../../site/site.js";
import { figureText } from "../rule/words.js";
import type { ReadText } from "./words.js";

/** More readings than this are not looked at: they tell the same. Our own choice. */
const MOST_READINGS = 5_000;

/**
 * Says what a distance signal read over `[from, to)`, in the user's unit: `118 in`, or `115 to 118 in` where readings
 * differ. Null for signals that read words or positions, and where it read nothing.
 */
export function readingText(site: Pick<Site, "signals">, readings: ReadonlyMap<string, Readings>): ReadText {
  return (signal, from, to) => {
    const spec = site.signals.find(({ id }) => id === signal);
    if (spec?.reading.form !== "distance") return null;
    let [least, most, seen] = [Infinity, -Infinity, 0];
    for (const part of readings.get(signal)?.parts ?? []) {
      if (part.last < from) continue;
      const cursor = readingCursor(part, from);
      while (seen < MOST_READINGS && advance(cursor) && cursor.instant < to) {
        if (Number.isNaN(cursor.value)) continue;
        seen += 1;
        least = Math.min(least, cursor.value);
        most = Math.max(most, cursor.value);
      }
    }
    if (seen === 0) return null;
    const unit = spec.reading.unit;
    const [low, high] = [least, most].map((metres) => figureText(Number((metres / metresPerUnit[unit]).toPrecision(3))));
    return low === high ? `${low} ${unit}` : `${low} to ${high} ${unit}`;
  };
}
