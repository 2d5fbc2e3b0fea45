import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { ExportSample } from "../../src/intake/sample-exports.js";
import { iso } from "./invented-exports.js";
import { draftedOrRefused, expectLoadsOrAsks } from "./loads-or-asks.js";

const start = Date.UTC(2026, 5, 1, 12);
const cell = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom("open", "closed", "true", "false", "4.2", "8.1", "1e-7", "in", "out", "", "n/a", "offline", "FILL-IN", "# x", "*a", "null", "50.1", "-3.2", "0", "91", "mira", "Tom & co", "2026-06-01") },
  { weight: 1, arbitrary: fc.string({ unit: "binary", maxLength: 12 }) },
);
const rowsOf = (rows: readonly (readonly string[])[], stretches: readonly number[]): ExportSample["rows"] => rows.map((cells, i) => ({ cells, line: i + 1, stretch: stretches[i] ?? 0 }));
const grid = (columns: number) => fc.array(fc.array(cell, { minLength: columns, maxLength: columns }), { maxLength: 30 });
/** Most stamps can be read, some stand still or go back. */
const stamps = fc.array(fc.oneof({ weight: 9, arbitrary: fc.integer({ min: 0, max: 9_000 }).map((minutes) => iso(start + minutes * 60_000)) }, { weight: 1, arbitrary: cell }), { minLength: 30, maxLength: 30 });

const parquet: fc.Arbitrary<ExportSample> = fc
  .tuple(fc.array(cell, { minLength: 1, maxLength: 4 }), stamps, grid(4), fc.constantFrom("in UTC", "without a zone", null))
  .map(([names, at, cells, timestamps]) => ({ name: "a.parquet", bytes: 1, cutOff: false, traits: { text: null, rowsAre: "rows of Parquet", hasLines: false, hasTracks: false, timestamps: new Map(timestamps === null ? [] : [["at", timestamps]]) }, header: ["at", ...names], rows: rowsOf(cells.map((row, i) => [at[i]!, ...row.slice(0, names.length)]), []), oddRows: 0, whole: true }));
const gpx: fc.Arbitrary<ExportSample> = fc
  .tuple(stamps, grid(3), fc.array(fc.nat(2), { minLength: 30, maxLength: 30 }), fc.boolean(), fc.constantFrom("mira.gpx", "1.gpx", "2.gpx", "ü*#.gpx"))
  .map(([at, cells, stretches, cutOff, name]) => ({ name, bytes: 1, traits: { text: null, rowsAre: "track points of GPX", hasLines: true, hasTracks: true, timestamps: new Map() }, cutOff, header: ["time", "lat", "lon", "track"], rows: rowsOf(cells.map(([a, b, track], i) => [at[i]!, i % 3 === 0 ? a! : `50.${String(i % 4)}`, i % 5 === 0 ? b! : "-3.2", track!]), [...stretches].sort()), oddRows: cells.length % 3, whole: false }));

describe("whatever rows GPX and Parquet hold", () => {
  it("a draft throws nothing but InputError, and loads or marks every place that keeps it from loading", () => {
    let [written, positions] = [0, 0];
    fc.assert(
      fc.property(fc.uniqueArray(fc.oneof(parquet, gpx), { minLength: 1, maxLength: 3, selector: ({ name }) => name }), (samples) => {
        const found = draftedOrRefused(() => samples, { site: "s", file: "site.yaml" });
        if (found === null) return;
        written++;
        positions += found.placings.filter(({ signal }) => signal.reading.form === "position").length;
        expectLoadsOrAsks(found);
      }),
      { numRuns: 250 },
    );
    expect(written).toBeGreaterThan(30);
    expect(positions).toBeGreaterThan(30);
  });
});
