import { execFile } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join, resolve } from "node:path";
import { promisify } from "node:util";
import { expect, it } from "vitest";
import { folderWith, tinyLog, tinySite } from "./tiny-site.js";

/* The built program audits eight sites on two threads, and the same sites in shares of four on none: it makes no difference. Takes `.build`. */
const SITES = 8;
const run = promisify(execFile);
const timeless = (text: string): string => text.replace(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z/g, (stamp) => (stamp.startsWith("2026-06-0") ? stamp : "")).replace(/Made <time[\s\S]*?<\/time>/, "");

it("audits many sites on several threads to the same results, and tells of them in their order", async () => {
  const folder = await folderWith(
    Object.fromEntries(Array.from({ length: SITES }, (_, i) => [[`s${i}/site.yaml`, tinySite.replace("Otter Cottage", `Otter Cottage ${i}`)], [`s${i}/log.csv`, i === 5 ? "at,what,says\n" : tinyLog()]]).flat()) as Record<string, string>,
  );
  const files = Array.from({ length: SITES }, (_, i) => `s${i}/site.yaml`);
  const keyworthy = (...words: string[]): Promise<{ code: number; stdout: string; stderr: string }> =>
    run(process.execPath, [resolve(".build/cli.js"), ...words], { cwd: folder }).then(
      (done) => ({ code: 0, ...done }),
      (failed: unknown) => failed as { code: number; stdout: string; stderr: string },
    );
  const whole = await keyworthy("audit", ...files, "--out", "whole", "--pages", "none");
  expect(whole.code).toBe(2);
  expect(whole.stderr).toContain("s5/site.yaml");
  expect([...whole.stdout.matchAll(/^Otter Cottage (\d),/gm)].map(([, number]) => number)).toEqual(["0", "1", "2", "3", "4", "6", "7"]);
  for (const part of ["1/2", "2/2"]) await keyworthy("audit", ...files, "--out", "parts", "--pages", "none", "--part", part);
  await keyworthy("combine", "parts", "--out", "joined");
  for (const i of [0, 3, 7]) for (const file of ["findings.json", "counts.json", "signals.csv"]) {
    const [one, other] = await Promise.all(["whole", "parts"].map((place) => readFile(join(folder, place, `otter-cottage-${i}`, file), "utf8")));
    expect(timeless(one!), file).toBe(timeless(other!));
  }
  for (const file of ["work-orders.csv", "signals.csv", "bays.csv"]) {
    const [one, other] = await Promise.all(["whole/_fleet", "joined"].map((place) => readFile(join(folder, place, file), "utf8")));
    expect(one!, file).toBe(other!);
  }
}, 120_000);
