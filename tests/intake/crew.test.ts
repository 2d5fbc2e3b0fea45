import { existsSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { makeCrew } from "../../src/intake/crew.js";
import { MOST_ROWS_WAITING } from "../../src/intake/crew-messages.js";
import { readExports } from "../../src/intake/read-exports.js";
import type { SetAsideRow } from "../../src/intake/readings.js";
import { exampleSite, longSource, writeFiles } from "./example-site.js";
import { pairsOf } from "./packed.js";

/** `npm run build` makes it; `npm test` builds first. */
const worker = new URL("../../.build/intake/worker.js", import.meta.url);
const none = new URL("./no-such-worker.js", import.meta.url);

describe("a crew", () => {
  it("has no threads for little work, for one file, or without a compiled worker", () => {
    expect([makeCrew([1000, 1000], worker).size, makeCrew([1e9], worker).size, makeCrew([1e9, 1e9], none).size]).toEqual([1, 1, 1]);
  });
});

describe.skipIf(!existsSync(worker))("files read by threads", () => {
  it("give what they give one after another: readings, ledger, and set-aside rows in the same order", async () => {
    const site = await exampleSite({ sources: [longSource({ files: ["*.csv", "*.gz"] })] });
    const text = (file: number): string => {
      const lines = Array.from({ length: 60_000 }, (_, i) => `${new Date(Date.UTC(2026, 9, 1) + file * 10_000_000 + i * 1000).toISOString()},${i % 3 === 0 ? "r1" : "d1"},${i % 3 === 0 ? i % 2 : i % 1000 === 1 ? "fault" : 3 + (i % 50) / 10}\n`);
      // More bad rows than may wait, so that a thread has to be told to go on.
      const bad = file === 2 ? "never,d1,4\n".repeat(MOST_ROWS_WAITING * 3) : "";
      return `stamp,channel,reading\n${lines.join("")}${bad}`;
    };
    await writeFiles(site, { "a.csv": text(0), "b.csv": text(1), "c.csv": text(2), "d.csv.gz": gzipSync(text(3)) });
    const run = async (script: URL): Promise<unknown> => {
      const setAside: SetAsideRow[] = [];
      let told = { bytes: 0, totalBytes: 0, rows: 0 };
      const { readings, ledger } = await readExports(site, { onSetAside: (row) => setAside.push(row), onProgress: (progress) => (told = progress) }, script);
      expect(told).toMatchObject({ bytes: told.totalBytes, rows: ledger.reduce((sum, row) => sum + row.read, 0) });
      return { ledger, setAside, readings: [...readings.values()].map((one) => [one.signal, pairsOf(one)]) };
    };
    expect(await run(worker)).toEqual(await run(none));
  });

  it("tell every file's problem, as they do one after another", async () => {
    const site = await exampleSite({ sources: [longSource({ files: ["*.csv"] })] });
    await writeFiles(site, { "a.csv": `stamp,reading\n${"x,1\n".repeat(1_100_000)}`, "b.csv": `when,channel,reading\n${"x,d1,1\n".repeat(700_000)}` });
    const messages = await Promise.all([worker, none].map((script) => readExports(site, { onSetAside: () => undefined }, script).then(() => "read", (error: unknown) => (error as Error).message)));
    expect(messages[0]).toBe(messages[1]);
    expect(messages[0]).toMatch(/a\.csv:1: The header lacks the column "channel"[^]*b\.csv:1: The header lacks the column "stamp"/);
  });
});
