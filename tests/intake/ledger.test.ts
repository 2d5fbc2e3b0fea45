import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { signalIntakes } from "../../src/intake/columns.js";
import type { SetAsideRow } from "../../src/intake/readings.js";
import { makeTextReader } from "../../src/intake/read-text.js";
import { finishIntake, makeRowIntake, sinkOf } from "../../src/intake/row-intake.js";
import { finishSeries } from "../../src/intake/series.js";
import { emptyTally, ledgerRow } from "../../src/intake/tally.js";
import { contactSignal, distanceSignal, longSource } from "./example-site.js";
import type { LedgerRow } from "../../src/result/ledger.js";

/** Reads one file's bytes without touching a disk. */
function read(chunks: readonly Uint8Array[]): { ledger: LedgerRow; setAside: SetAsideRow[]; readings: number } {
  const source = longSource({ missing: ["n/a"], skippedHour: "shift" });
  const intakes = signalIntakes(source, [distanceSignal("overhead"), contactSignal("rail")]);
  const setAside: SetAsideRow[] = [];
  const intake = makeRowIntake(source, intakes, "board.csv", (row) => setAside.push(row));
  const reader = makeTextReader("board.csv", source, sinkOf(intake));
  for (const chunk of chunks) reader.push(Buffer.from(chunk));
  reader.end(false);
  return { ledger: finishIntake(intake), setAside, readings: intakes.reduce((sum, { series }) => sum + finishSeries(series).count, 0) };
}

/** Rows of every fate, with the fate each must have when it stands alone. */
const goodRows = fc.tuple(fc.integer({ min: 0, max: 59 }), fc.constantFrom("d1,4", "d1,5", "r1,1", "r1,0")).map(([second, rest]) => ({ text: `2026-10-01T10:00:${String(second).padStart(2, "0")}Z,${rest}`, good: true }));
const badRows = fc.constantFrom("", "2026-10-01T10:00:00Z,d1", "now,d1,4", "2026-10-01T10:00:00Z,d7,4", "2026-10-01T10:00:00Z,d1,n/a", "2026-10-01T10:00:00Z,d1,0", "2026-10-01T10:00:00Z,r1,ajar", "stamp,channel,reading", "\ufffd,,", ",,,,").map((text) => ({ text, good: false }));

describe("the ledger", () => {
  it("adds up over any mix of rows: good ones once, repeats as duplicates, the rest set aside one by one", () => {
    fc.assert(
      fc.property(fc.array(fc.oneof(goodRows, badRows), { maxLength: 60 }), fc.constantFrom("\n", "\r\n", "\r"), (rows, lineBreak) => {
        const text = ["stamp,channel,reading", ...rows.map((row) => row.text)].join(lineBreak);
        const { ledger, setAside, readings } = read([Buffer.from(text)]);
        const good = rows.filter((row) => row.good).map((row) => row.text);
        const different = new Set(good).size;
        expect(ledger).toMatchObject({
          read: rows.filter((row) => row.text !== "").length,
          accepted: different,
          duplicate: good.length - different,
          setAside: rows.filter((row) => !row.good && row.text !== "").length,
        });
        expect(ledger.read).toBe(ledger.accepted + ledger.duplicate + ledger.setAside);
        expect(ledger.reasons.reduce((sum, { count }) => sum + count, 0)).toBe(ledger.setAside);
        expect(setAside).toHaveLength(ledger.setAside);
        expect(readings).toBe(ledger.accepted);
      }),
      { numRuns: 200 },
    );
  });

  it("adds up over any bytes, which never do more than set rows aside or be refused as input", () => {
    const header = Buffer.from("stamp,channel,reading\n");
    const pieces = fc.oneof(fc.uint8Array({ maxLength: 80 }), fc.constantFrom('"', "\n", "\r", ",", "2026-10-01T10:00:00Z,d1,4\n").map((text) => Buffer.from(text)));
    fc.assert(
      fc.property(fc.boolean(), fc.array(pieces, { maxLength: 12 }), (withHeader, chunks) => {
        try {
          const { ledger, setAside } = read(withHeader ? [header, ...chunks] : chunks);
          expect(ledger.read).toBe(ledger.accepted + ledger.duplicate + ledger.setAside);
          expect(setAside).toHaveLength(ledger.setAside);
        } catch (error) {
          expect(error).toBeInstanceOf(InputError);
          expect(withHeader).toBe(false);
        }
      }),
      { numRuns: 500 },
    );
  });

  it("says so if ever a row were lost", () => {
    expect(() => ledgerRow({ ...emptyTally(), accepted: 2 }, "board", "board.csv", 3, false)).toThrow("the ledger of board.csv does not add up: 3 rows read, 2 accepted, 0 duplicate, 0 set aside");
  });
});
