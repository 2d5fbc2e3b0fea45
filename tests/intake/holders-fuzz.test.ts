import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { intakeOf, longSource } from "./example-site.js";
import { daysOf, databaseOf, spreadsheetOf, zipOf, type SheetCell } from "./invented-holders.js";

const rows = Array.from({ length: 40 }, (_, i) => [`2026-10-01T10:${String(i).padStart(2, "0")}:00`, "d1", 4 + i / 10] as const);
const csv = `stamp,channel,reading\n${rows.map((row) => `${row.join(",")}\n`).join("")}`;
const cells: SheetCell[][] = [["stamp", "channel", "reading"], ...rows.map(([at, channel, reading]): SheetCell[] => [{ days: daysOf(at), as: "both" }, channel, reading])];
const holders = {
  "a.zip": zipOf([["one.csv", csv], ["two.csv", { content: csv, stored: true }]]),
  "a.xlsx": spreadsheetOf({ Log: cells }),
  "a.db": await databaseOf("create table log (stamp text, channel text, reading real)", `insert into log values ${rows.map(([at, channel, reading]) => `('${at}', '${channel}', ${reading})`).join(", ")}`),
} as const;

/** Bytes that were changed, or cut off behind. */
const damage = fc.record({ at: fc.array(fc.tuple(fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), fc.nat(255)), { maxLength: 6 }), kept: fc.oneof({ weight: 3, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.double({ min: 0, max: 1, noNaN: true }) }) });

describe.each(Object.entries(holders))("%s, whatever bytes of it are damaged,", (name, whole) => {
  it("is read with every row counted, or refused with a problem that names the file", { timeout: 120_000 }, async () => {
    let [read, refused] = [0, 0];
    await fc.assert(
      fc.asyncProperty(damage, async ({ at, kept }) => {
        const bytes = Buffer.from(whole);
        for (const [place, byte] of at) bytes[Math.floor(place * bytes.length)] = byte;
        try {
          const { ledger } = await intakeOf({ [name]: bytes.subarray(0, Math.ceil(kept * bytes.length)) }, { sources: [longSource({ files: [name], zone: "UTC" })] });
          for (const row of ledger) expect(row.read).toBe(row.accepted + row.duplicate + row.setAside);
          read++;
        } catch (error) {
          if (!(error instanceof InputError)) throw error;
          for (const { file } of error.problems) expect(file).toContain(name);
          refused++;
        }
      }),
      { numRuns: 60 },
    );
    expect([read > 0, refused > 0]).toEqual([true, true]);
  });
});
