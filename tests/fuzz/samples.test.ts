import { mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inputOf, prepared } from "./target.js";
import { targetNames, targetOf } from "./targets.js";

describe.each(targetNames)("what is fuzzed as %s", (name) => {
  it("is read as long as nothing is wrong with it, and another input comes of every number, the same each time", async () => {
    const target = await targetOf(name);
    const folder = await mkdtemp(join(tmpdir(), "keyworthy-fuzz-"));
    await prepared(folder, target);
    const came = [];
    for (const sample of target.samples) {
      await writeFile(join(folder, target.file), sample);
      came.push(await target.take(folder, 0));
    }
    expect(came).toEqual(target.samples.map(() => "read"));
    const inputs = Array.from({ length: 20 }, (_, nth) => inputOf(target, 1, nth).toString("latin1"));
    expect(inputs).toEqual(Array.from({ length: 20 }, (_, nth) => inputOf(target, 1, nth).toString("latin1")));
    expect(new Set(inputs).size).toBeGreaterThan(15);
    expect(inputs).not.toEqual(Array.from({ length: 20 }, (_, nth) => inputOf(target, 2, nth).toString("latin1")));
  });
});
