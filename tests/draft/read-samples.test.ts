import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { thinned } from "../../src/commands/read-samples.js";
import { draftSite } from "../../src/draft/draft-site.js";
import { sampleTable } from "../../src/draft/sample-table.js";
import { iso, meterRows } from "./invented-exports.js";

async function* chunksOf(text: string, size: number): AsyncGenerator<Uint8Array> {
  await Promise.resolve();
  const bytes = Buffer.from(text, "utf8");
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

describe("a first look at a large file", () => {
  it("keeps head, tail and evenly spaced parts between, and says that it is not whole", async () => {
    const sample = await thinned("big.csv", chunksOf("0123456789abcdefghijABCDEFGHIJ+-*/!", 1), 12);
    expect(sample).toMatchObject({ bytes: 35, whole: false });
    expect(sample.pieces.map((piece) => Buffer.from(piece).toString())).toEqual(["0", "4", "8", "c", "g", "A", "E", "I", "*/!"]);
  });

  it("keeps a small file whole, in one piece", async () => {
    const sample = await thinned("small.csv", chunksOf("a,b\n1,2\n", 3), 100);
    expect(sample).toMatchObject({ bytes: 8, whole: true });
    expect(sample.pieces.map((piece) => Buffer.from(piece).toString())).toEqual(["a,b\n1,2\n"]);
  });

  it("keeps a copy, as whoever reads the file may use a chunk's memory again", async () => {
    async function* reusing(): AsyncGenerator<Uint8Array> {
      const chunk = Buffer.from("a,b\n1,2\n");
      yield chunk;
      await Promise.resolve();
      chunk.write("3,4\n5,6\n");
      yield chunk;
    }
    expect((await thinned("a.csv", reusing(), 100)).pieces.map((piece) => Buffer.from(piece).toString())).toEqual(["a,b\n1,2\n3,4\n5,6\n"]);
  });

  it("gives only rows of the file, each at most once and in order, wherever the parts are cut", async () => {
    const rows = Array.from({ length: 400 }, (_, i) => `${iso(Date.UTC(2026, 0, 1, 0, i))},d${i % 3},${i}.5`);
    const text = `at,what,says\n${rows.join("\n")}\n`;
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 100, max: 3000 }), fc.integer({ min: 600, max: 20_000 }), async (size, bound) => {
        const table = sampleTable(await thinned("big.csv", chunksOf(text, size), bound));
        if ("code" in table) throw new Error(table.what);
        const given = table.rows.map(({ cells }) => cells.join(","));
        expect(new Set(given).size).toBe(given.length);
        expect(given).toEqual(rows.filter((row) => given.includes(row)));
        expect(given.at(-1)).toBe(rows.at(-1));
      }),
      { numRuns: 100 },
    );
  });

  it("tells the same of a site from parts as from the whole, and says how much was looked at", async () => {
    const text = `stamp,channel,reading\n${meterRows([{ channel: "d1", bay: 1, near: 4.2, far: 8.1 }, { channel: "w1", bay: 1, near: 26, far: 118 }]).join("\n")}\n`;
    const names = { site: "s", file: "site.yaml" };
    const whole = draftSite([await thinned("a.csv", chunksOf(text, 4096), 1e9)], names);
    const parts = draftSite([await thinned("a.csv", chunksOf(text, 4096), text.length / 3)], names);
    const told = ({ placings }: typeof whole) => placings.map(({ signal, subject, class: subjectClass }) => ({ id: signal.id, subject, subjectClass, expect: signal.expect?.ms, near: signal.reading.form === "distance" ? signal.reading.band?.near.toFixed(1) : null }));
    expect(told(parts)).toEqual(told(whole));
    expect(whole.yaml).toContain("# 1 file, read whole: 5,760 rows");
    expect(parts.yaml).toMatch(/# 1 file, of each the head, the tail and evenly spaced parts between \(of 1 MB in all\): [12],\d{3} rows/);
  });
});
