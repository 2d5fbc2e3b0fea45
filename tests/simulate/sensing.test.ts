import { parse } from "csv-parse/sync";
import { expect, test } from "vitest";
import { instantOf } from "../../src/simulate/local-calendar.js";
import { runScenario } from "../../src/simulate/run.js";
import { parseScenario } from "../../src/simulate/scenario.js";

const ZONE = "Europe/London";
const at = (text: string): number => instantOf(ZONE, ...(text.split(" ") as [string, string]));

/** Three days at one bay: the vehicle is out 08:00-16:00 each day. */
function readingsOf(sensor: string, more = "", causes = "{ board: {} }"): { at: number; value: string }[] {
  const text = `
scenario: Small
seed: 5
timezone: ${ZONE}
period: { from: 2026-06-01, to: 2026-06-04 }
people: { ada: {} }
bays: { bay-1: {} }
doors: { door: {} }
routine: [ { name: work, who: [ada], bay: bay-1, through: door, days: daily, leaves: "08:00", away: 8h } ]
causes: ${causes}
sources: { log: { files: log.csv, time: { column: t, written: epoch-ms }, signal: id, value: v, lost: [gone] } }
sensors: { s: { source: log, channel: s, ${sensor} } }
${more}`;
  const rows: string[][] = parse(runScenario(parseScenario(text, "small.yaml")).files.get("log.csv")!);
  return rows.slice(1).map(([t, , v]) => ({ at: Number(t), value: v! }));
}
const between = (rows: { at: number; value: string }[], from: string, to: string): string[] => rows.filter((row) => row.at >= at(from) && row.at < at(to)).map(({ value }) => value);
const meter = "on: bay-1, kind: distance, unit: in, every: 10min, reads: { occupied: 30, empty: 118, noise: 0.5, maximum: 118, decimals: 1 }, shares: [board]";
const phone = "on: ada, kind: phone, reads: { on: in, off: out }, shares: [board]";

test("a meter reads the vehicle with noise, and its maximum where nothing echoes", () => {
  const rows = readingsOf(meter);
  const occupied = between(rows, "2026-06-01 17:00", "2026-06-02 07:00").map(Number);
  expect(occupied.length).toBe(84);
  expect(Math.max(...occupied) - Math.min(...occupied)).toBeGreaterThan(1);
  expect(occupied.every((value) => Math.abs(value - 30) < 2.5)).toBe(true);
  expect(new Set(between(rows, "2026-06-01 09:00", "2026-06-01 15:00"))).toEqual(new Set(["118.0"]));
});

test("a meter that reports changes does so at once, besides its interval", () => {
  const change = readingsOf(meter).find((row) => row.at >= at("2026-06-02 08:00"))!;
  expect(change).toEqual({ at: at("2026-06-02 08:00"), value: "118.0" });
  const slow = readingsOf(`${meter}, on_change: false`).find((row) => row.at >= at("2026-06-02 08:00"))!;
  expect(slow.at).toBeGreaterThan(at("2026-06-02 08:00"));
});

test("a hatch held open shifts the reading for a while", () => {
  const rows = readingsOf(`${meter}, faults: { hatch: { chance: 1, shift: [-4, -3], mean: 20min } }`);
  const evening = between(rows, "2026-06-02 16:00", "2026-06-02 23:00").map(Number);
  expect(evening.some((value) => value > 24.5 && value < 28.5)).toBe(true);
  expect(evening.filter((value) => value > 28.5).length).toBeGreaterThan(10);
});

test("a stuck contact keeps its word, and is right again afterwards", () => {
  const stuck = 'faults: { stuck: [ { from: 2026-06-02 06:00, for: 1d, at: "off" } ] }';
  const rows = readingsOf(`on: door, kind: contact, every: 30min, reads: { on: "1", off: "0" }, ${stuck}`);
  expect(new Set(between(rows, "2026-06-02 06:00", "2026-06-03 06:00"))).toEqual(new Set(["0"]));
  for (const day of ["2026-06-01", "2026-06-03"]) expect(between(rows, `${day} 07:50`, `${day} 08:10`)).toContain("1");
});

test("a silence holds no reading; what changed meanwhile is told on return", () => {
  const rows = readingsOf(`${phone}, faults: { silences: [ { from: 2026-06-02 07:00, for: 3h } ] }`);
  expect(between(rows, "2026-06-02 07:00", "2026-06-02 10:00")).toEqual([]);
  expect(between(rows, "2026-06-02 10:00", "2026-06-02 10:01")).toEqual(["out"]);
});

test("a restart says the lost word, then nothing, then off, then what is so", () => {
  const causes = "{ board: { restarts: [ { at: 2026-06-01 20:00, for: 5min, says_lost: true, says_off_first: 40s } ] } }";
  const rows = readingsOf(phone, "", causes).filter((row) => row.at >= at("2026-06-01 20:00") && row.at < at("2026-06-01 21:00"));
  expect(rows[0]).toEqual({ at: at("2026-06-01 20:00"), value: "gone" });
  expect(rows.slice(1).every((row) => row.at >= at("2026-06-01 20:05"))).toBe(true);
  expect(rows.slice(1).map(({ value }) => value).filter((value, i, all) => value !== all[i - 1])).toEqual(["out", "in"]);
  expect(rows.find(({ value }) => value === "in")!.at).toBe(at("2026-06-01 20:05") + 40_000);
});

test("a frozen board repeats its sensors' last reading to the digit", () => {
  const causes = "{ board: { freezes: [ { from: 2026-06-02 07:00, for: 4h } ] } }";
  const rows = readingsOf(meter, "", causes);
  const frozen = between(rows, "2026-06-02 07:00", "2026-06-02 11:00");
  expect(frozen.length).toBeGreaterThan(20);
  expect(new Set(frozen).size).toBe(1);
  expect(frozen[0]).toBe(between(rows, "2026-06-02 06:40", "2026-06-02 07:00").at(-1));
  expect(new Set(between(rows, "2026-06-02 11:00", "2026-06-02 15:00"))).toEqual(new Set(["118.0"]));
});

test("a visitor's vehicle reads as the event says, and counts as missed where the band does not hold it", () => {
  const visit = (reading: number): string => `events: [ { name: visitor, on: 2026-06-02, bay: bay-1, through: door, arrives: "10:00", stays: 2h, reads: { s: ${reading} } } ]`;
  const rows = readingsOf(`${meter}, site: { present: [20, 40] }`, visit(45));
  expect(between(rows, "2026-06-02 10:01", "2026-06-02 12:00").every((value) => Math.abs(Number(value) - 45) < 2.5)).toBe(true);
  const text = (reading: number): string => `
scenario: Small
seed: 5
timezone: ${ZONE}
period: { from: 2026-06-02, to: 2026-06-03 }
bays: { bay-1: { at_start: empty } }
doors: { door: {} }
sources: { log: { files: log.csv, time: { column: t, written: epoch-ms }, signal: id, value: v } }
sensors: { s: { source: log, channel: s, on: bay-1, kind: distance, unit: in, every: 10min, reads: { occupied: 30, empty: 118 }, site: { present: [20, 40] } } }
${visit(reading)}`;
  const missed = (reading: number): number => runScenario(parseScenario(text(reading), "s")).planted.signals.get("s")!.missedOn.length;
  expect([missed(45), missed(35)]).toEqual([1, 0]);
});
