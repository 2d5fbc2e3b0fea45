import type { Findings } from "../../../src/result/findings.js";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { auditSite, countsOf, loadSite, type Counts } from "../../../src/index.js";
import type { DesignRoad } from "../../../src/result/design.js";
import { parseFurtherRules } from "../../../src/site/further-rules.js";
import { filesOf, triedText } from "./site-text.js";
import type { Limits, World } from "./world.js";

/** What an audit says of the rules of a world: the site's own first, then those tried. */
export interface Audited {
  /** What to mend, the gravest first. */
  readonly mend: Findings["mend"];
  readonly verdicts: readonly string[];
  /** Codes of the reasons that kept the own rule from being cleared. */
  readonly against: readonly string[];
  readonly counts: Counts;
  /** The own rule's road of design, and what counting saw. */
  readonly road: { readonly design: DesignRoad | null; readonly wrong: number; readonly yearsSeen: number };
}

/** Writes the world into a folder of its own, audits it as a user's program would, and takes the folder away. */
export async function auditWorld(world: World, limits: Limits, earlier?: readonly Counts[]): Promise<Audited> {
  const folder = await mkdtemp(join(tmpdir(), "verdict-study-"));
  try {
    const files = filesOf(world, limits);
    for (const [name, text] of files) await writeFile(join(folder, name), text);
    const siteFile = join(folder, "site.yaml");
    const site = await loadSite(siteFile);
    const tried = triedText(world);
    const rules = tried === "" ? [] : parseFurtherRules(tried, join(folder, "tried.yaml"), site, files.get("site.yaml")!);
    const findings = await auditSite(site, {
      period: { form: "all" },
      madeAt: 0,
      watch: { onSetAside: () => undefined },
      ...(rules.length === 0 ? {} : { tried: rules }),
      ...(earlier === undefined ? {} : { earlier }),
    });
    const [own] = findings.rules;
    return {
      mend: findings.mend,
      verdicts: [...findings.rules, ...findings.tried].map(({ verdict }) => verdict),
      against: own!.reasons.filter(({ effect }) => effect === "open" || effect === "breaks").map(({ code }) => code),
      counts: countsOf(findings),
      road: { design: own!.design, wrong: own!.firings.wrong, yearsSeen: own!.evidence.yearsSeen },
    };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
