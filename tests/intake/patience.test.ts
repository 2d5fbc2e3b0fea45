import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { patienceFor } from "../../src/intake/patience.js";
import type { FileTask } from "../../src/intake/read-file.js";
import { longSource } from "./example-site.js";

const task = (name: string, bytes = 1000): FileTask => ({ source: longSource(), signals: [], file: { path: name, name, bytes }, known: new Map(), until: Infinity });

/** A thread that goes round without end over one file, and reads the others at once. */
const stub = `import { parentPort } from "node:worker_threads";
parentPort.on("message", ({ task }) => {
  if (task.file.name.startsWith("endless")) for (;;);
  if (task.file.name.startsWith("bursting")) for (const list = []; ; ) list.push(list.length);
  parentPort.postMessage({ kind: "done", outcome: { ledger: null, problems: [], readings: new Map([[task.file.name, 1]]) } });
});
parentPort.postMessage("ready");`;

function stubbed(): URL {
  const file = join(mkdtempSync(join(tmpdir(), "keyworthy-stub-")), "worker.mjs");
  writeFileSync(file, stub);
  return pathToFileURL(file);
}

/** Built: programs of their own are not made from the source. */
const builtCrew = (await import(new URL("../../.build/intake/crew.js", import.meta.url).href)) as typeof import("../../src/intake/crew.js");

const watch = { onSetAside: (): void => undefined, onProgress: (): void => undefined };

describe("patience with a file", () => {
  it("grows with its size, and is without end for formats that are read as they come", () => {
    expect([task("a.parquet", 0), task("a.parquet", 60_000_000), task("a.csv"), task("a.csv.gz")].map(patienceFor)).toEqual([3_000, 63_000, null, null]);
  });

  it("ends at once for one that takes more memory than any program has; the next file is read", async () => {
    const crew = builtCrew.makeCrew([1000], stubbed());
    try {
      const outcome = await crew.read({ ...task("bursting.parquet", 60_000_000) }, watch);
      expect(outcome.problems.map(({ found }) => found)).toEqual(["data that unpack to more than the memory holds"]);
      expect((await crew.read(task("good.parquet"), watch)).readings.has("good.parquet")).toBe(true);
    } finally {
      await crew.dismiss();
    }
  }, 60_000);

  it("ends for one that its reader never comes back from; the next file is read", async () => {
    const crew = builtCrew.makeCrew([1000], stubbed());
    try {
      const begun = performance.now();
      const outcome = await crew.read(task("endless.parquet"), watch);
      expect(outcome.problems).toEqual([{ code: "file-binary", what: "The Parquet file cannot be read", file: "endless.parquet", expected: "a whole Parquet file", found: "nothing that came of it for 3 s", mend: "copy or export it again, or leave it out" }]);
      expect(performance.now() - begun).toBeLessThan(15_000);
      expect((await crew.read(task("good.parquet"), watch)).readings.has("good.parquet")).toBe(true);
    } finally {
      await crew.dismiss();
    }
  }, 30_000);
});
