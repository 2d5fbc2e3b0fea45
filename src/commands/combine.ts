import { stat } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import { InputError, type Problem } from "../ground/problem.js";
import { findFinished, type Finished } from "./finished-audits.js";
import { withLimits } from "../compare/fleets/limits.js";
import { loadFleetFile } from "../site/fleet-file.js";
import { compareFleet, fleetText, type PageOf, shortfallLines, writeFleet } from "./fleet-folder.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/** What the command line asks of `keyworthy combine`. */
export interface CombineRequest {
  /** Folders with finished audits in them or below them. */
  readonly folders: readonly string[];
  readonly out: string;
  readonly leaveOutBroken: boolean;
  /** The fleet file, which says who belongs; null: the audits do. */
  readonly fleet: string | null;
  readonly quiet: boolean;
}

/**
 * Merges finished audits of sites, months and machines into the fleet result that one run over all of them would give.
 * A broken audit is named and stops the command; with `leaveOutBroken` the result names it instead.
 */
export async function runCombine(request: CombineRequest, around: Surroundings): Promise<ExitStatus> {
  const finished: Finished[] = [];
  const broken: Problem[] = [];
  for (const folder of request.folders) {
    const found = await findFinished(resolve(around.folder, folder), around.folder);
    finished.push(...found.finished);
    broken.push(...found.broken);
    if (found.finished.length + found.broken.length === 0) {
      throw new InputError([{ code: "result-broken", what: "There is no finished audit in this folder or below it", file: folder, mend: "name the folder an audit was written to" }]);
    }
  }
  if (broken.length > 0 && !request.leaveOutBroken) throw new InputError(broken);
  if (finished.length === 0) throw new InputError(broken);
  const named = request.fleet === null ? null : await loadFleetFile(resolve(around.folder, request.fleet));
  const leftOut = broken.map(({ file, what }) => ({ what: file ?? "a part", why: what }));
  const counted = finished.map(({ counts }) => (named?.limits == null ? counts : withLimits(counts, named.limits)));
  const fleet = compareFleet(counted, { leftOut, belongs: named?.sites ?? null }, around);
  const target = resolve(around.folder, request.out);
  await writeFleet(fleet, target, await pagesOf(finished, target, around.folder));
  if (!request.quiet) around.say(fleetText(fleet, relative(around.folder, join(target, "fleet.html"))));
  else for (const line of shortfallLines(fleet)) around.tell(`${line.trim()}\n`);
  return fleet.parts.every(({ rules }) => rules.every(({ verdict }) => verdict === "clear to enable")) ? 0 : 3;
}

/** Where the page of each site's latest audit lies, of those that have one. */
async function pagesOf(finished: readonly Finished[], target: string, around: string): Promise<PageOf> {
  const pages = new Map<string, string>();
  for (const { counts, folder } of finished.toSorted((a, b) => a.counts.period.to - b.counts.period.to)) {
    const page = resolve(around, folder, "report.html");
    if (await isFile(page)) pages.set(counts.site.name, relative(join(target, "sites"), page));
    else pages.delete(counts.site.name);
  }
  return (site) => pages.get(site) ?? null;
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}
