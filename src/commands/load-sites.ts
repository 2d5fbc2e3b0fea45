import { InputError, type Problem, type ProblemParts } from "../ground/problem.js";
import { loadRules, loadSite, nameInFile } from "../site/load.js";
import type { RuleSpec, Site } from "../site/site.js";
import { folderName } from "../ground/folder-name.js";

/** The sites that could be loaded, and those whose file is wrong, with a name to call them by. */
export interface LoadedSites {
  readonly sites: Site[];
  readonly failed: { readonly name: string; readonly problems: readonly Problem[] }[];
}

/** Loads every site before any is audited. A wrong site file stops its own site alone. */
export async function loadEach(files: readonly string[]): Promise<LoadedSites> {
  const loaded = await Promise.allSettled(files.map((file) => loadSite(file)));
  const found: LoadedSites = { sites: [], failed: [] };
  for (const [i, result] of loaded.entries()) {
    const file = files[i] ?? "";
    if (result.status === "fulfilled") found.sites.push(result.value);
    else if (result.reason instanceof InputError) found.failed.push({ name: (await nameInFile(file)) ?? file, problems: result.reason.problems });
    else throw result.reason;
  }
  return found;
}

/** Loads the sites of other shares for their names. What is wrong with them the run of their share reports. */
export async function loadOthers(files: readonly string[]): Promise<{ readonly sites: readonly Site[]; readonly names: readonly string[] }> {
  const { sites, failed } = await loadEach(files);
  return { sites, names: failed.map(({ name }) => name) };
}

/** Reads the further rules for each site before any is audited. */
export async function loadTried(path: string | null, sites: readonly Site[]): Promise<Map<Site, RuleSpec[]>> {
  const bySite = new Map<Site, RuleSpec[]>();
  if (path !== null) for (const site of sites) bySite.set(site, await loadRules(site, path));
  return bySite;
}

/** Throws `InputError` if a site of `sites` would be written into the folder of another site of `all`. */
export function refuseNamesakes(sites: readonly Site[], all: readonly Site[]): void {
  const own = new Set(sites);
  const seen = new Map(all.filter((site) => !own.has(site)).map((site) => [folderName(site.name), site]));
  const problems: ProblemParts[] = [];
  for (const site of sites) {
    const twin = seen.get(folderName(site.name));
    seen.set(folderName(site.name), site);
    if (twin === undefined) continue;
    problems.push({ code: "site-shape", what: `The site "${site.name}" would be written into the same folder as "${twin.name}" of ${twin.file}`, file: site.file, mend: "give the sites different names" });
  }
  if (problems.length > 0) throw new InputError(problems);
}
