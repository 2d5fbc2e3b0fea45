import fc from "fast-check";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import type { Source } from "../../src/site/site.js";
import { intakeOf, longSource } from "./example-site.js";

const header = Buffer.from("stamp,channel,reading\n");
const valid = Buffer.from("\n2026-10-01T10:00:00Z,d1,10\n");
const instant = "2026-10-01T10:00:00.000Z";

const mess = fc.oneof(
  fc.uint8Array({ maxLength: 60 }),
  fc.constantFrom('"', '""', '\n"', "\r", "\r\n", ",", ",,,,", "\0", "\ufeff", "2026-10-01T10:00:0", "stamp,channel,reading\n", "\u2028", "=cmd", "9".repeat(400)).map((text) => Buffer.from(text)),
);
const garbage = fc.array(mess, { maxLength: 6 }).map((parts) => Buffer.concat(parts));
/** Without quotes: what a quote opens belongs to a row until it is closed, and nobody can say that it does not. */
const quoteless = garbage.map((bytes) => Buffer.from(bytes.filter((byte) => byte !== 0x22)));

async function account(bytes: Uint8Array, parts: Partial<Source> = {}, name = "board.csv"): Promise<{ pairs: string[]; refused: boolean }> {
  try {
    const { ledger, setAside, pairs } = await intakeOf({ [name]: bytes }, { sources: [longSource({ files: [name], ...parts })] });
    for (const row of ledger) {
      expect(row.read).toBe(row.accepted + row.duplicate + row.setAside);
      expect(row.reasons.reduce((sum, { count }) => sum + count, 0)).toBe(row.setAside);
      expect(setAside).toHaveLength(row.setAside);
    }
    return { pairs: pairs["overhead"]!.map(([at]) => at), refused: false };
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return { pairs: [], refused: true };
  }
}

describe("arbitrary bytes", () => {
  it("never do more than set rows aside or be refused in words, in every format and encoding", async () => {
    const names = fc.constantFrom("board.csv", "board.csv.gz", "board.gpx", "board.parquet");
    const encodings = fc.constantFrom("utf-8", "utf-16le", "utf-16be", "windows-1252", null);
    await fc.assert(
      fc.asyncProperty(fc.boolean(), garbage, names, encodings, async (hasHeader, bytes, name, encoding) => {
        await account(hasHeader ? Buffer.concat([header, bytes]) : bytes, { encoding }, name);
      }),
      { numRuns: 300 },
    );
  });

  it("around a valid row never take it along", async () => {
    await fc.assert(
      fc.asyncProperty(quoteless, quoteless, fc.constantFrom<Source["encoding"]>(null, "utf-8", "windows-1252"), async (before, after, encoding) => {
        const { pairs, refused } = await account(Buffer.concat([header, before, valid, after]), { encoding });
        expect(refused).toBe(false);
        expect(pairs).toContain(instant);
      }),
      { numRuns: 300 },
    );
  });

  it("with quotes do not take it along either, unless a quote behind it closes the field it would be part of", async () => {
    await fc.assert(
      fc.asyncProperty(garbage, quoteless, async (before, after) => {
        const { pairs } = await account(Buffer.concat([header, before, valid, after]));
        expect(pairs).toContain(instant);
      }),
      { numRuns: 300 },
    );
  });

  it("cut out of a packed file leave the rows before", async () => {
    const rows = Array.from({ length: 400 }, (_, i) => `2026-10-01T10:${String(Math.floor(i / 60)).padStart(2, "0")}:${String(i % 60).padStart(2, "0")}Z,d1,${3 + ((i * 37) % 101) / 10}\n`);
    const packed = gzipSync(header.toString() + rows.join(""));
    const whole = (await account(packed, {}, "board.csv.gz")).pairs;
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 0, max: packed.length - 1 }), async (length) => {
        const { pairs } = await account(packed.subarray(0, length), {}, "board.csv.gz");
        expect(pairs).toEqual(whole.slice(0, pairs.length));
      }),
      { numRuns: 60 },
    );
  });
});
