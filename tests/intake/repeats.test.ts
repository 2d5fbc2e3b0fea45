import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Source } from "../../src/site/site.js";
import { contactSignal, distanceSignal, intakeOf, longSource } from "./example-site.js";
import type { LedgerRow } from "../../src/result/ledger.js";
import { InputError, type ProblemParts } from "../../src/ground/problem.js";
import type { Crew } from "../../src/intake/crew.js";
import { settledLedgers } from "../../src/intake/repeats.js";
import { packed } from "./packed.js";

const long = longSource({ files: ["part-*.csv"] });
const wide = longSource({ files: ["part-*.csv"], layout: { form: "wide", columns: new Map([["overhead", { value: "top" }], ["rail", { value: "door" }]]) } });

/** A row of the test: second, signal, value. */
type Row = readonly [number, "overhead" | "rail", number];

const stamp = (second: number): string => new Date(Date.UTC(2026, 9, 1, 10, 0, second)).toISOString();
const longText = (rows: readonly Row[]): string => `stamp,channel,reading\n${rows.map(([second, signal, value]) => `${stamp(second)},${signal === "rail" ? "r1" : "d1"},${value}\n`).join("")}`;
const wideText = (rows: readonly Row[]): string => `stamp,top,door\n${rows.map(([second, signal, value]) => `${stamp(second)},${signal === "overhead" ? value : ""},${signal === "rail" ? value : ""}\n`).join("")}`;

async function read(source: Source, texts: readonly string[]): Promise<{ ledger: readonly LedgerRow[]; pairs: Record<string, [string, number][]> }> {
  const signals = [distanceSignal("overhead", { reading: { form: "distance", unit: "m" }, channel: source === wide ? null : "d1" }), contactSignal("rail", source === wide ? { channel: null } : {})];
  return intakeOf(Object.fromEntries(texts.map((text, i) => [`part-${i}.csv`, text])), { sources: [source], signals });
}

/** The plain definition: files one after another; a row whose reading is there already is a duplicate. */
function slowly(files: readonly (readonly Row[])[]): { counts: [number, number, number][]; pairs: Record<string, [string, number][]> } {
  const seen = new Set<string>();
  const kept: Row[] = [];
  const counts = files.map((rows): [number, number, number] => {
    let [accepted, outOfOrder, last] = [0, 0, -Infinity];
    for (const row of rows) {
      if (seen.has(row.join())) continue;
      seen.add(row.join());
      kept.push(row);
      accepted++;
      if (row[0] < last) outOfOrder++;
      last = row[0];
    }
    return [accepted, rows.length - accepted, outOfOrder];
  });
  kept.sort((a, b) => a[0] - b[0]);
  const pairs = Object.fromEntries((["overhead", "rail"] as const).map((signal) => [signal, kept.filter((row) => row[1] === signal).map(([second, , value]): [string, number] => [stamp(second), value])]));
  return { counts, pairs };
}

const rows = fc.array(fc.tuple(fc.integer({ min: 0, max: 30 }), fc.constantFrom("overhead", "rail"), fc.integer({ min: 0, max: 1 })).map(([second, signal, value]): Row => [second, signal, signal === "rail" ? value : value + 1]), { maxLength: 15 });
const files = fc.array(fc.tuple(rows, fc.boolean(), fc.integer({ min: 0, max: 60 })), { minLength: 1, maxLength: 4 }).map((all) => all.map(([own, inOrder, shift]) => (inOrder ? [...own].sort((a, b) => a[0] - b[0]) : own).map(([second, ...rest]): Row => [second + shift, ...rest])));

describe("files that overlap", () => {
  it.each([["long", long, longText], ["wide", wide, wideText]] as const)("are read as if one after another, every reading counted once (%s layout)", async (_, source, text) => {
    await fc.assert(
      fc.asyncProperty(files, async (all) => {
        const { ledger, pairs } = await read(source, all.map(text));
        const expected = slowly(all);
        expect(pairs).toEqual(expected.pairs);
        expect(ledger.map((row) => [row.accepted, row.duplicate, row.outOfOrderRows])).toEqual(expected.counts);
        for (const row of ledger) expect(row.read).toBe(row.accepted + row.duplicate + row.setAside);
      }),
      { numRuns: 60 },
    );
  });

  it("count last month's file once, and what the new one adds", async () => {
    const month = Array.from({ length: 5000 }, (_, i): Row => [i * 60, "overhead", 1 + (i % 7)]);
    const { ledger } = await read(long, [longText(month.slice(0, 3000)), longText(month.slice(2900))]);
    expect(ledger.map(({ read: all, accepted, duplicate, first }) => [all, accepted, duplicate, first])).toEqual([
      [3000, 3000, 0, Date.UTC(2026, 9, 1, 10)],
      [2100, 2000, 100, Date.UTC(2026, 9, 1, 10, 3000)],
    ]);
  });
});

it("a file that cannot be read the second time is told as such", async () => {
  const task = { source: long, signals: [], file: { path: "part.csv", name: "part.csv", bytes: 1 }, known: new Map(), until: Infinity };
  const ledger: LedgerRow = { source: "board", file: "part.csv", read: 1, accepted: 1, duplicate: 0, setAside: 0, reasons: [], missingCells: 0, unreadableCells: 0, repeatedHourRows: 0, shiftedRows: 0, outOfOrderRows: 0, cutOff: false, first: 5, last: 5 };
  const outcome = { ledger, problems: [], readings: new Map([["overhead", packed([[5, 1]])]]) };
  const gone: ProblemParts = { code: "file-missing", what: "The file is gone", file: "part.csv" };
  const crew: Crew = { size: 1, read: () => Promise.resolve({ ledger: null, problems: [gone], readings: new Map() }), dismiss: () => Promise.resolve() };
  await expect(settledLedgers([{ task, outcome }, { task, outcome }], crew)).rejects.toThrow(new InputError([gone]));
});
