import { join, relative, resolve } from "node:path";
import type { Counts } from "../result/counts.js";
import { InputError, type Problem } from "../ground/problem.js";
import { selectEarlier } from "../compare/months/select.js";
import { checkPeriod } from "../intake/period.js";
import { loadFleetFile } from "../site/fleet-file.js";
import { withLimits } from "../compare/fleets/limits.js";
import type { SensorLimits, Site } from "../site/site.js";
import { fleetFolderOf, type AuditOutcome, type AuditRequest } from "./audit-site.js";
import { compareFleet, fleetText, type PageOf, shortfallLines, writeFleet } from "./fleet-folder.js";
import { loadEach, loadOthers, loadTried, refuseNamesakes } from "./load-sites.js";
import { periodOptionNames } from "./period-options.js";
import { filesOfShare } from "./share.js";
import { makeStopwatch } from "./stopwatch.js";
import { auditEach } from "./site-crew.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

export { auditFiles } from "./audit-files.js";

/**
 * Audits every site into a folder of its own, several at a time, and compares several sites in a fleet result beside
 * them. Wrong input in one site, its site file too, leaves its folder unwritten but does not stop the others: it is
 * reported at the end, and the fleet result says that the site is missing.
 */
export async function runAudit(request: AuditRequest, around: Surroundings): Promise<ExitStatus> {
  // What came before is the start of the program.
  const watch = makeStopwatch();
  const several = request.siteFiles.length > 1;
  const paths = (files: readonly string[]): string[] => files.map((file) => resolve(around.folder, file));
  const files = request.share === null ? request.siteFiles : filesOfShare(request.siteFiles, request.share);
  const loaded = await loadEach(paths(files));
  const problems: Problem[] = loaded.failed.flatMap((one) => one.problems);
  if (!several && problems.length > 0) throw new InputError(problems);
  const { sites } = loaded;
  const others = await loadOthers(paths(request.siteFiles.filter((file) => !files.includes(file))));
  refuseNamesakes(sites, [...sites, ...others.sites]);
  const tried = await loadTried(request.tryFile === null ? null : resolve(around.folder, request.tryFile), sites);
  for (const site of sites) checkPeriod(site, request.period, periodOptionNames);
  const named = request.fleetFile === null ? null : await loadFleetFile(resolve(around.folder, request.fleetFile));
  const failed = loaded.failed.map(({ name, problems: of }) => ({ site: name, why: of[0]?.what ?? "its site file is wrong" }));
  const round = several ? [...new Set([...[...sites, ...others.sites].map(({ name }) => name), ...failed.map(({ site }) => site), ...others.names])].sort() : null;

  const outcomes: AuditOutcome[] = [];
  const names = [...new Set([...sites, ...others.sites].map(({ name }) => name))];
  await auditEach(sites, tried, request, around, { names, round, begin: watch.begin }, (site: Site, result) => {
    if ("problems" in result) {
      problems.push(...result.problems);
      failed.push({ site: site.name, why: result.problems[0]?.what ?? "its input is wrong" });
      return;
    }
    outcomes.push(result);
    if (!request.quiet) around.say(result.summary);
  });
  if (several && request.share === null && !request.redact && outcomes.length > 0) await fleetBeside(outcomes, { failed, belongs: named?.sites ?? null, limits: named?.limits ?? null }, request, around);
  if (request.timings) around.tell(watch.table());
  if (problems.length > 0) throw new InputError(problems);
  return outcomes.every(({ clear }) => clear) ? 0 : 3;
}

/** What is known of the round beside what was audited. */
interface RoundKnown {
  readonly failed: readonly { readonly site: string; readonly why: string }[];
  readonly belongs: readonly string[] | null;
  readonly limits: SensorLimits | null;
}

async function fleetBeside(outcomes: readonly AuditOutcome[], known: RoundKnown, request: AuditRequest, around: Surroundings): Promise<void> {
  const counted = outcomes.map(({ counts }) => counts);
  const all = [...counted, ...earlierOf(outcomes)];
  const { limits, belongs, failed } = known;
  const fleet = compareFleet(limits === null ? all : all.map((one) => withLimits(one, limits)), { leftOut: [], belongs, failed }, around);
  const labels = [...new Set(counted.map(({ period }) => period.label))].sort();
  const label = [...new Set([labels.at(0) ?? "", labels.at(-1) ?? ""])].join("_");
  const target = fleetFolderOf(request.out, label, around);
  const pages = new Map(outcomes.map(({ counts, page }) => [counts.site.name, page]));
  const pageOf: PageOf = (site) => {
    const page = pages.get(site) ?? null;
    return page === null ? null : relative(join(target, "sites"), page);
  };
  await writeFleet(fleet, target, pageOf);
  if (!request.quiet) around.say(fleetText(fleet, relative(around.folder, join(target, "fleet.html"))));
  else for (const line of shortfallLines(fleet)) around.tell(`${line.trim()}\n`);
}

/** Earlier audits of the same sites, as far as they do not overlap: what is new and what was mended is told by them. */
function earlierOf(outcomes: readonly AuditOutcome[]): Counts[] {
  return outcomes.flatMap(({ counts, earlier }) => selectEarlier(earlier, counts.site.name, counts.period.from).used);
}
