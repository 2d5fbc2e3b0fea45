import { InputError, type Problem, type ProblemParts } from "../ground/problem.js";
import { loadRules, loadSite } from "../site/load.js";
import type { RuleSpec, Site } from "../site/site.js";
import { folderName } from "./folder-name.js";

/** Loads every site before any is audited, so that one run reports everything that is wrong. */
export async function loadAll(files: readonly string[]): Promise<Site[]> {
  const loaded = await Promise.allSettled(files.map((file) => loadSite(file)));
  const problems: Problem[] = [];
  const sites: Site[] = [];
  for (const result of loaded) {
    if (result.status === "fulfilled") sites.push(result.value);
    else if (result.reason instanceof InputError) problems.push(...result.reason.problems);
    else throw result.reason;
  }
  if (problems.length > 0) throw new InputError(problems);
  return sites;
}

/** Loads the sites of other shares for their names. Skips those that are wrong: the run of their share reports them. */
export async function loadOthers(files: readonly string[]): Promise<Site[]> {
  const loaded = await Promise.allSettled(files.map((file) => loadSite(file)));
  return loaded.flatMap((result) => {
    if (result.status === "fulfilled") return [result.value];
    if (result.reason instanceof InputError) return [];
    throw result.reason;
  });
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
