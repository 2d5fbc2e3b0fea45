import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { auditSite, loadSite, type Findings } from "../../../src/index.js";
import { parseFurtherRules } from "../../../src/site/further-rules.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { filesOf } from "../verdict/site-text.js";
import type { Limits, World } from "../verdict/world.js";

/** Audits a world with further rules beside its own, given as text under `rules:`; says what they were read as. */
export async function auditBeside(world: World, limits: Limits, further: string): Promise<{ readonly findings: Findings; readonly tried: readonly RuleSpec[] }> {
  const folder = await mkdtemp(join(tmpdir(), "proposals-"));
  try {
    const files = filesOf(world, limits);
    for (const [name, text] of files) await writeFile(join(folder, name), text);
    const site = await loadSite(join(folder, "site.yaml"));
    const tried = further === "" ? [] : parseFurtherRules(`rules:\n${further}`, "further.yaml", site, files.get("site.yaml") ?? "");
    return { findings: await auditSite(site, { madeAt: 0, ...(tried.length === 0 ? {} : { tried }) }), tried };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
