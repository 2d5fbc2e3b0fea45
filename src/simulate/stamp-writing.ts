import { DateTime } from "luxon";

/** Offsets change on quarter hours at the finest, so one look-up serves all stamps of a quarter. */
const QUARTER_MS = 15 * 60_000;

/**
 * How a source writes its instants: `iso` (local time with offset, to the second), `epoch-s`, `epoch-ms`, or a luxon
 * pattern in local time without offset, in which the repeated hour of a clock change really appears twice.
 */
export function stampWriter(written: string, zone: string): (instant: number) => string {
  if (written === "epoch-ms") return (instant) => String(instant);
  if (written === "epoch-s") return (instant) => String(Math.floor(instant / 1000));
  if (written !== "iso") return (instant) => DateTime.fromMillis(instant, { zone }).toFormat(written);
  const offsets = new Map<number, { ms: number; text: string }>();
  return (instant) => {
    const quarter = Math.floor(instant / QUARTER_MS);
    let offset = offsets.get(quarter);
    if (offset === undefined) {
      const local = DateTime.fromMillis(instant, { zone });
      offset = { ms: local.offset * 60_000, text: local.toFormat("ZZ") };
      offsets.set(quarter, offset);
    }
    return `${new Date(instant + offset.ms).toISOString().slice(0, 19)}${offset.text}`;
  };
}
