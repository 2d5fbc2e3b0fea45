import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { runCheck } from "../../../src/commands/check.js";
import { auditSite, loadSite } from "../../../src/index.js";
import { trulyOf } from "./evaluate.js";
import { limitsFor, longRunOf, monthSpan, withinOf } from "./limits.js";
import { mechanisms } from "./mechanisms.js";
import { chanceNamed } from "./random.js";
import { filesOf } from "./site-text.js";
import type { Limits, World } from "./world.js";

const LIMITS: Limits = { wrongPerYear: 200, missedShare: 0.2, withinMs: 120_000 };

function worldOf(id: string, name: string, faulty = true): World {
  const mechanism = mechanisms.find((one) => one.id === id)!;
  return mechanism.build(chanceNamed(name), monthSpan(0), { faulty, seen: true, month: 0 });
}

async function withFiles<T>(world: World, limits: Limits, use: (siteFile: string, folder: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), "study-test-"));
  try {
    for (const [name, text] of filesOf(world, limits)) await writeFile(join(folder, name), text);
    return await use(join(folder, "site.yaml"), folder);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

describe("the generator of the verdict study", () => {
  it("makes the same files from the same name, and others from another", () => {
    expect(filesOf(worldOf("even-diary", "a"), LIMITS)).toEqual(filesOf(worldOf("even-diary", "a"), LIMITS));
    expect(filesOf(worldOf("even-diary", "a"), LIMITS)).not.toEqual(filesOf(worldOf("even-diary", "b"), LIMITS));
  });

  it("shares nothing with the simulator of the program", async () => {
    const files = (await readdir(import.meta.dirname)).filter((name) => name !== "generator.test.ts");
    expect(files.length).toBeGreaterThan(10);
    for (const name of files) expect(await readFile(join(import.meta.dirname, name), "utf8"), name).not.toMatch(/from "[^"]*simulate/);
  });

  it.each(mechanisms.map(({ id }) => [id]))("writes exports and a site file that load without a row set aside: %s", async (id) => {
    const world = worldOf(id, "loads");
    const limits = { ...LIMITS, withinMs: withinOf(world.rule) };
    const said: string[] = [];
    const status = await withFiles(world, limits, (siteFile, folder) => runCheck({ siteFile, quiet: true }, { say: (text) => said.push(text), tell: (text) => said.push(text), tellsTerminal: false, colour: false, terminal: null, now: () => 0, folder }));
    expect(status, said.join("")).toBe(0);
    const text = said.join("");
    expect(text).toContain("the site file is in order");
    expect(text).not.toMatch(/[1-9]\d* set aside/);
    if (id === "repeated-exports") expect(text).toMatch(/[1-9]\d* duplicate/);
  });

  it("has a fault where the view has one: every mechanism breaks its limit in the long run, and without the fault nothing is wrong or missed", () => {
    for (const mechanism of mechanisms.filter(({ breaks }) => breaks !== null)) {
      const truth = longRunOf(mechanism, 12);
      const world = worldOf(mechanism.id, "sound", false);
      const limits = limitsFor(mechanism, truth, "breaks", withinOf(world.rule));
      if (mechanism.breaks === "wrong") expect(truth.wrongPerYear, mechanism.id).toBeGreaterThanOrEqual(limits.wrongPerYear * 0.999);
      else expect(truth.missedShare, mechanism.id).toBeGreaterThanOrEqual(limits.missedShare * 0.999);
      expect(trulyOf(world, world.rule, limits.withinMs), mechanism.id).toMatchObject({ wrong: 0, missedOrLate: 0 });
    }
  });

  // With a complete diary nothing is left to judge: the study's evaluator and the program must count the same.
  it.each([["even-diary"], ["clumps-rare"], ["late-household"], ["charged-late"], ["lock-one-contact"]])("counts what the program counts where a complete diary tells all: %s", async (id) => {
    const world = worldOf(id, "counts");
    const limits = { ...LIMITS, withinMs: withinOf(world.rule) };
    const truly = trulyOf(world, world.rule, limits.withinMs);
    const findings = await withFiles(world, limits, async (siteFile) => auditSite(await loadSite(siteFile), { period: { form: "all" }, madeAt: 0, watch: { onSetAside: () => undefined } }));
    const [rule] = findings.rules;
    expect({ firings: rule!.firings.count, wrong: rule!.firings.wrong, unverified: rule!.firings.unverified }).toEqual({ firings: truly.firings, wrong: truly.wrong, unverified: 0 });
    expect({ wanted: rule!.wanted.count, missedOrLate: rule!.wanted.missed + rule!.wanted.late }).toEqual({ wanted: truly.wanted, missedOrLate: truly.missedOrLate });
  });
});
