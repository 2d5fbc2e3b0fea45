import { parse } from "csv-parse/sync";
import { expect, test } from "vitest";
import { parseScenario } from "../../src/simulate/scenario.js";
import { runScenario } from "../../src/simulate/run.js";

/** Ten days of one phone and one tracker in a wide source, and one contact in a long one that comes in parts. */
const text = `
scenario: Small
seed: 3
timezone: Europe/London
period: { from: 2026-10-20, to: 2026-10-30 }
people: { ada: {} }
doors: { shed: {} }
routine: [ { name: garden, through: shed, days: daily, opens: "10:00", for: 5min, jitter: 30min }, { name: out, who: [ada], days: daily, leaves: "12:00", away: 2h } ]
sources:
  wide: { files: exports/phones.csv, time: { column: When, written: "dd/MM/yyyy HH:mm:ss" }, missing: ["-"], dirt: { disorder: 0.02, unreadable: 0.02, words: ["??"] } }
  long: { files: exports/log-*.csv, split: 4d, overlap: 3, delimiter: ";", time: { column: t, written: epoch-s }, signal: id, value: v, behind: 90s }
sensors:
  ada-phone: { on: ada, source: wide, column: Ada, kind: phone, every: 20min, reads: { on: in, off: out } }
  ada-track: { on: ada, source: wide, columns: { latitude: Lat, longitude: Lon }, kind: position, every: 20min, reads: { latitude: 51.5, longitude: -0.2, noise_metres: 10, away_metres: 3000 }, site: { radius: 150m } }
  shed-contact: { on: shed, source: long, channel: c1, kind: contact, every: 30min, reads: { on: "1", off: "0" } }
`;
const { files, planted } = runScenario(parseScenario(text, "small.yaml"));
const rowsOf = (path: string, delimiter = ","): string[][] => parse(files.get(path)!, { delimiter });

test("a long source is cut into parts that repeat the last rows of the part before", () => {
  const parts = [...files.keys()].filter((path) => path.startsWith("exports/log-"));
  expect(parts).toEqual(["exports/log-2026-10-20.csv", "exports/log-2026-10-24.csv", "exports/log-2026-10-28.csv"]);
  const [first, second] = parts.map((path) => rowsOf(path, ";"));
  expect(first![0]).toEqual(["t", "id", "v"]);
  expect(second!.slice(1, 4)).toEqual(first!.slice(-3));
  expect(planted.sources.get("long")).toMatchObject({ repeated: 6, misplaced: 0, unreadable: 0 });
});

test("a clock that runs behind writes earlier stamps", () => {
  expect(Number(rowsOf("exports/log-2026-10-20.csv", ";")[1]![0]) * 1000).toBe(planted.exports.from - 90_000);
});

test("a wide source has a column a signal, two for a position, and says nothing with its own word", () => {
  const rows = rowsOf("exports/phones.csv");
  expect(rows[0]).toEqual(["When", "Ada", "Lat", "Lon"]);
  expect(rows.every((row) => row.length === 4)).toBe(true);
  const words = new Set(rows.slice(1).map((row) => row[1]));
  expect(words).toEqual(new Set(["in", "out", "-", "??"]));
});

test("a position is near home when its person is, and far when not", () => {
  const metres = rowsOf("exports/phones.csv").slice(1).filter((row) => Number.isFinite(Number(row[2]))).map((row) => Math.hypot((Number(row[2]) - 51.5) * 111_195, (Number(row[3]) + 0.2) * 111_195 * Math.cos((51.5 * Math.PI) / 180)));
  expect(metres.filter((distance) => distance < 150).length).toBeGreaterThan(500);
  expect(metres.filter((distance) => distance > 1500).length).toBeGreaterThan(50);
  expect(metres.filter((distance) => distance >= 150 && distance <= 1500)).toEqual([]);
});

test("dirt is counted: unreadable rows are extra, misplaced rows are late, and none is near the clock change", () => {
  const dirt = planted.sources.get("wide")!;
  const rows = rowsOf("exports/phones.csv").slice(1);
  expect(rows.filter((row) => row.includes("??"))).toHaveLength(dirt.unreadable);
  expect(dirt.unreadable).toBeGreaterThan(5);
  expect(dirt.misplaced).toBeGreaterThan(5);
  expect(rows).toHaveLength(dirt.rows);
  // Read as local time, stamps go back once for the repeated hour and once for each misplaced row.
  const local = rows.map((row) => Date.parse(row[0]!.replace(/(\d+)\/(\d+)\/(\d+) (.*)/, "$3-$2-$1T$4Z")));
  const backwards = local.filter((at, i) => i > 0 && at < local[i - 1]!);
  expect(backwards.length).toBe(dirt.misplaced + 1);
  const repeated = local.filter((at) => at >= Date.parse("2026-10-25T01:00Z") && at < Date.parse("2026-10-25T02:00Z"));
  expect(repeated.filter((at, i) => i > 0 && at < repeated[i - 1]!)).toHaveLength(1);
});
