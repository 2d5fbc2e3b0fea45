import { InputError, type ProblemParts } from "../../src/ground/problem.js";
import { makeTextReader } from "../../src/intake/read-text.js";
import { finishSample, makeRowSample, sampleSink } from "../../src/intake/row-sample.js";
import { exportSample, type ExportSample, type ExportTraits } from "../../src/intake/sample-exports.js";
import { lookAtText, LOOKED_AT_BYTES } from "../../src/intake/text-look.js";

/** What a text says of itself besides its rows. */
export const textTraits = (text: ExportTraits["text"]): ExportTraits => ({ text, rowsAre: "rows", hasLines: true, hasTracks: false, timestamps: new Map() });

/** A text as a draft is shown it, without a file; whole, unless `bound` characters are fewer. */
export function sample(name: string, text: string | Uint8Array, bound = Infinity): ExportSample {
  const bytes = Buffer.from(text);
  const look = lookAtText(name, bytes.subarray(0, LOOKED_AT_BYTES));
  const rows = makeRowSample(bound);
  const reader = makeTextReader(name, { delimiter: look.delimiter.delimiter, encoding: look.encoding.encoding }, sampleSink(rows));
  reader.push(bytes);
  reader.end(false);
  return exportSample({ name, bytes: bytes.length }, textTraits(look), finishSample(rows));
}

/** Several texts; throws `InputError` with the problems of all of them. */
export function samplesOf(files: Readonly<Record<string, string | Uint8Array>>): ExportSample[] {
  const problems: ProblemParts[] = [];
  const samples = Object.entries(files).flatMap(([name, text]) => {
    try {
      return [sample(name, text)];
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
      return [];
    }
  });
  if (problems.length > 0) throw new InputError(problems);
  return samples;
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
