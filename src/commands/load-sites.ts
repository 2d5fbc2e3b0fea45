import { InputError, type Problem, type ProblemParts } from "../ground/problem.js";
import { loadRules, loadSite, nameInFile } from "../site/load.js";
import type { RuleSpec, Site } from "../site/site.js";

/** The sites that could be loaded, and those whose file is wrong, with a name to call them by. */
export interface LoadedSites {
  readonly sites: Site[];
  readonly failed: { readonly name: string; readonly problems: readonly Problem[] }[];
}

/** Loads every site before any is audited. A wrong site file stops its own site alone. */
export async function loadEach(files: readonly string[]): Promise<LoadedSites> {
  const found: LoadedSites = { sites: [], failed: [] };
  // One after another: all at once would be more open files than the system allows.
  for (const file of files) {
    try {
      found.sites.push(await loadSite(file));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      found.failed.push({ name: (await nameInFile(file)) ?? file, problems: error.problems });
    }
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

/** Throws `InputError` if a site of `sites` has the name of another site of `all`: nothing could tell their results apart. */
export function refuseNamesakes(sites: readonly Site[], all: readonly Site[]): void {
  const own = new Set(sites);
  const seen = new Map(all.filter((site) => !own.has(site)).map((site) => [site.name, site]));
  const problems: ProblemParts[] = [];
  for (const site of sites) {
    const twin = seen.get(site.name);
    seen.set(site.name, site);
    if (twin === undefined) continue;
    problems.push({ code: "site-shape", what: `The site "${site.name}" has the same name as that of ${twin.file}`, file: site.file, mend: "give the sites different names" });
  }
  if (problems.length > 0) throw new InputError(problems);
}
