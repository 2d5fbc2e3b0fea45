import { dirname, join, relative, resolve } from "node:path";
import { csvHeader, csvRows } from "../findings/csv-text.js";
import { toConfirmCsv } from "../findings/to-confirm-csv.js";
import { episodesCsv, firingsCsv, signalsCsv } from "../findings/tables.js";
import { redactFindings } from "../findings/redact.js";
import type { Findings } from "../findings/schema.js";
import type { AskedPeriod } from "../period.js";
import { auditSite } from "../pipeline.js";
import { InputError, type Problem, type ProblemParts } from "../problem.js";
import { renderReport } from "../report/render.js";
import { loadFurtherRules, loadSite } from "../site/load.js";
import type { RuleSpec, Site } from "../site/site.js";
import { folderName } from "./folder-name.js";
import { makeProgress } from "./progress.js";
import { summaryText } from "./summary.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { beginWholeFolder, refuseStrangers } from "./whole-folder.js";

/** The folder of a redacted result, beside those named by their period: a name that says nothing. */
const REDACTED_FOLDER = "redacted";

/** The files of a finished audit; a folder holding nothing else may be replaced by the next run. */
export const auditFiles = ["report.html", "findings.json", "signals.csv", "episodes.csv", "firings.csv", "set-aside.csv", "to-confirm.csv"] as const;

/** `keyworthy audit` as asked for on the command line. */
export interface AuditRequest {
  readonly siteFiles: readonly string[];
  readonly period: AskedPeriod;
  /** For one site the folder itself; for several, a folder a site in it. Null: reports/SITE/PERIOD. */
  readonly out: string | null;
  /** A file of further rules, replayed beside each site's own. They do not decide the exit status. */
  readonly tryFile: string | null;
  /** Writes the results without names, places and dates, for sharing, and no row of an export. */
  readonly redact: boolean;
  readonly quiet: boolean;
}

interface AuditOutcome {
  readonly findings: Findings;
  /** Where the result now lies. */
  readonly folder: string;
}

/** Audits every site and writes a folder each. Wrong input in one site leaves that site's folder unwritten. */
export async function runAudit(request: AuditRequest, around: Surroundings): Promise<ExitStatus> {
  const sites = await loadAll(request.siteFiles.map((file) => resolve(around.folder, file)));
  refuseNamesakes(sites);
  const triedBySite = await loadTried(request.tryFile === null ? null : resolve(around.folder, request.tryFile), sites);
  let clear = true;
  for (const site of sites) {
    const { findings, folder } = await auditInto(site, triedBySite.get(site) ?? [], request, around, sites.length > 1);
    if (!request.quiet) around.say(summaryText(findings, relative(around.folder, join(folder, "report.html"))));
    clear &&= findings.rules.every((rule) => rule.verdict === "clear to enable");
  }
  return clear ? 0 : 3;
}

async function auditInto(site: Site, tried: readonly RuleSpec[], request: AuditRequest, around: Surroundings, several: boolean): Promise<AuditOutcome> {
  const progress = makeProgress(around, request.quiet);
  const named = request.out === null ? null : several ? resolve(around.folder, request.out, folderName(site.name)) : resolve(around.folder, request.out);
  const parent = named === null ? resolve(around.folder, "reports", folderName(site.name)) : dirname(named);
  if (named !== null) await refuseStrangers(named, auditFiles);
  const folder = await beginWholeFolder(parent);
  try {
    const setAside = request.redact ? null : folder.openLines("set-aside.csv");
    setAside?.add(csvHeader(["file", "line", "reason", "detail", "raw"]));
    const found = await auditSite(site, {
      period: request.period,
      tried,
      madeAt: around.now(),
      watch: {
        onSetAside: ({ file, line, reason, detail, raw }) => setAside?.add(csvRows([[file, line, reason, detail, raw]])),
        onProgress: progress.onProgress,
      },
    });
    progress.step("writing the report");
    const findings = request.redact ? redactFindings(found) : found;
    await folder.write("findings.json", `${JSON.stringify(findings, null, 1)}\n`);
    await folder.write("signals.csv", signalsCsv(findings));
    await folder.write("episodes.csv", episodesCsv(findings));
    await folder.write("firings.csv", firingsCsv(findings));
    if (!request.redact) await folder.write("to-confirm.csv", toConfirmCsv(findings));
    await folder.write("report.html", await renderReport(findings));
    const target = named ?? join(parent, request.redact ? REDACTED_FOLDER : findings.period.label);
    await folder.finish(target, auditFiles);
    progress.clear();
    return { findings: found, folder: target };
  } catch (error) {
    await folder.abandon();
    progress.clear();
    throw error;
  }
}

/** Reads the further rules against each site before any is audited. */
async function loadTried(path: string | null, sites: readonly Site[]): Promise<Map<Site, RuleSpec[]>> {
  const bySite = new Map<Site, RuleSpec[]>();
  if (path !== null) for (const site of sites) bySite.set(site, await loadFurtherRules(path, site));
  return bySite;
}

/** Loads every site before any is audited, so that one look shows everything that is wrong. */
async function loadAll(files: readonly string[]): Promise<Site[]> {
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

function refuseNamesakes(sites: readonly Site[]): void {
  const seen = new Map<string, Site>();
  const problems: ProblemParts[] = [];
  for (const site of sites) {
    const twin = seen.get(folderName(site.name));
    if (twin !== undefined) {
      problems.push({ code: "site-shape", what: `The site "${site.name}" would be written into the same folder as "${twin.name}" of ${twin.file}`, file: site.file, mend: "give the sites different names" });
    }
    seen.set(folderName(site.name), site);
  }
  if (problems.length > 0) throw new InputError(problems);
}
