import { InputError, type Problem, type ProblemParts } from "../ground/problem.js";
import { loadRules, loadSite } from "../site/load.js";
import type { RuleSpec, Site } from "../site/site.js";

/** Loads every site before any is audited, so that one run reports everything that is wrong. */
export async function loadAll(files: readonly string[]): Promise<Site[]> {
  const problems: Problem[] = [];
  const sites: Site[] = [];
  // One after another: all at once would be more open files than the system allows.
  for (const file of files) {
    try {
      sites.push(await loadSite(file));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
    }
  }
  if (problems.length > 0) throw new InputError(problems);
  return sites;
}

/** Loads the sites of other shares for their names. Skips those that are wrong: the run of their share reports them. */
export async function loadOthers(files: readonly string[]): Promise<Site[]> {
  const sites: Site[] = [];
  for (const file of files) {
    try {
      sites.push(await loadSite(file));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  return sites;
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
