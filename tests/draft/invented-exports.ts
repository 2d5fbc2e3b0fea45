import type { Sample } from "../../src/draft/sample.js";

/** A text as a sample that was read whole. */
export function sample(name: string, text: string | Uint8Array): Sample {
  const bytes = typeof text === "string" ? Buffer.from(text, "utf8") : text;
  return { name, bytes: bytes.length, pieces: bytes.length === 0 ? [] : [bytes], whole: true };
}

const MINUTE_MS = 60_000;

/**
 * Ten days of an invented site from 1 June 2026 12:00 UTC: every 5 minutes each meter says `near` (no vehicle gone) or
 * `far`, both a little unsteady. A vehicle is away from 8:00 to 17:00, each bay a quarter of an hour later than the one before.
 */
export function meterRows(meters: readonly { readonly channel: string; readonly bay: number; readonly near: number; readonly far: number }[], stamp: (instant: number) => string = iso): string[] {
  const start = Date.UTC(2026, 5, 1, 12);
  const rows: string[] = [];
  for (let i = 0; i < 10 * 288; i++) {
    meters.forEach(({ channel, bay, near, far }, m) => {
      const instant = start + i * 5 * MINUTE_MS + m * 7_000;
      const minute = (instant / MINUTE_MS) % 1440;
      const away = minute >= 480 + 15 * bay && minute < 1020 + 15 * bay;
      // A fixed little unsteadiness: the same in every run.
      rows.push([stamp(instant), channel, ((away ? far : near) * (1 + 0.004 * (((i * 7 + m) % 5) - 2))).toFixed(2)].join(","));
    });
  }
  return rows;
}

/** `2026-06-01T12:00:00Z` */
export function iso(instant: number): string {
  return new Date(instant).toISOString().replace(".000Z", "Z");
}
