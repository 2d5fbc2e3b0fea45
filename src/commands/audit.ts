import { readdir } from "node:fs/promises";
import { dirname, join, relative, resolve } from "node:path";
import { countsOf } from "../result/count-findings.js";
import { type Counts, countsSchema } from "../result/counts.js";
import { parquetBytes } from "../result/parquet.js";
import { redactFindings } from "../result/redact.js";
import { NEUTRAL_MADE } from "../result/redact-clock.js";
import { type Findings, findingsSchema } from "../result/findings.js";
import { episodesCsv, episodesTable, firingsCsv, firingsTable, signalsCsv, signalsTable } from "../result/tables.js";
import { toConfirmCsv } from "../result/to-confirm-csv.js";
import { checkPeriod, type AskedPeriod } from "../intake/period.js";
import { auditSite } from "../pipeline.js";
import { makeChartShapes, type ChartShapes } from "../report/charts/chart-shapes.js";
import { InputError, type Problem } from "../ground/problem.js";
import type { RuleSpec, Site } from "../site/site.js";
import { earlierAudits, withLeftOut, type EarlierRequest } from "./earlier-audits.js";
import { COUNTS_FILE, findFinished } from "./finished-audits.js";
import { addFleet, compareFleet, FLEET_FOLDER, fleetText, writeFleet } from "./fleet-folder.js";
import { siteFolderName } from "./folder-name.js";
import { keptAnswers, keptText, refuseDiaryInside, TO_CONFIRM_FILE, withKeptAnswers, type KeptAnswers } from "./kept-answers.js";
import { loadAll, loadOthers, loadTried, refuseNamesakes } from "./load-sites.js";
import { periodOptionNames } from "./period-options.js";
import { makeProgress } from "./progress.js";
import { setAsideLines } from "./set-aside-lines.js";
import { filesOfShare, type Share } from "./share.js";
import { makeStopwatch, type Stopwatch } from "./stopwatch.js";
import { summaryText } from "./summary.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { sweepNoted } from "./unfinished.js";
import { beginWholeFolder, type WholeFolder } from "./whole-folder.js";
import { refuseForeign, type ResultOf } from "./written-list.js";
import { jsonText } from "../result/json-text.js";

export { auditFiles } from "./audit-files.js";

/** The folder of a redacted result: unlike the others its name does not tell the period. */
const REDACTED_FOLDER = "redacted";
/** A single site with this many bays gets a fleet result too. With two bays nobody can tell which one is odd. */
const FEWEST_FLEET_BAYS = 3;

/** What the command line asks of `keyworthy audit`. */
export interface AuditRequest {
  readonly siteFiles: readonly string[];
  readonly period: AskedPeriod;
  /** One site: the folder of its result. Several: the parent of one folder for each. Null: reports/SITE/PERIOD. */
  readonly out: string | null;
  /** A file of further rules, replayed beside each site's own. They do not decide the exit status. */
  readonly tryFile: string | null;
  /** Write the results without names, places, dates or rows of the exports, for sharing. */
  readonly redact: boolean;
  /** Audit only this share of the site files, without a fleet result: `combine` makes that from all shares. */
  readonly share: Share | null;
  /** Where to look for earlier results; see `earlierAudits`. */
  readonly earlier: EarlierRequest;
  /** List the rows that were not used in set-aside.csv without repeating them. (Rows with positions are never repeated.) */
  readonly forgetRows: boolean;
  /** Write the tables as Parquet files too. */
  readonly parquet: boolean;
  readonly quiet: boolean;
  /** Tell how long each step took. */
  readonly timings: boolean;
}

/** What the audits of one run have in common. */
interface AuditRun {
  /** All sites of the run. */
  readonly sites: readonly Site[];
  /** Names of these and of the sites of other shares. */
  readonly names: readonly string[];
  /** Whether the run is over more than one site. */
  readonly several: boolean;
  /** Charts compiled for one report serve the others too. */
  readonly shapes: ChartShapes;
  readonly begin: Stopwatch["begin"];
}

interface AuditOutcome {
  readonly findings: Findings;
  readonly counts: Counts;
  /** Where the result was written. */
  readonly folder: string;
}

/**
 * Audits every site into a folder of its own, and compares several sites in a fleet result beside them. Wrong input in one
 * site leaves its folder unwritten but does not stop the others: it is reported at the end, and no fleet result is written.
 */
export async function runAudit(request: AuditRequest, around: Surroundings): Promise<ExitStatus> {
  // What came before is the start of the program.
  const watch = makeStopwatch();
  const several = request.siteFiles.length > 1;
  const files = request.share === null ? request.siteFiles : filesOfShare(request.siteFiles, request.share);
  const sites = await loadAll(files.map((file) => resolve(around.folder, file)));
  const others = await loadOthers(request.siteFiles.filter((file) => !files.includes(file)).map((file) => resolve(around.folder, file)));
  refuseNamesakes(sites, [...sites, ...others]);
  const names = [...sites, ...others].map(({ name }) => name);
  const triedBySite = await loadTried(request.tryFile === null ? null : resolve(around.folder, request.tryFile), sites);
  for (const site of sites) checkPeriod(site, request.period, periodOptionNames);
  const counted: Counts[] = [];
  const problems: Problem[] = [];
  let clear = true;
  const shapes = makeChartShapes();
  for (const site of sites) {
    try {
      const tried = triedBySite.get(site) ?? [];
      const { findings, counts, folder } = await auditInto(site, tried, request, around, { sites, names, several, shapes, begin: watch.begin });
      if (!request.quiet) around.say(summaryText(findings, relative(around.folder, join(folder, "report.html")), relative(around.folder, site.file)));
      counted.push(counts);
      clear &&= findings.rules.every((rule) => rule.verdict === "clear to enable");
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
    }
  }
  if (problems.length > 0) throw new InputError(problems);
  if (several && request.share === null && !request.redact) await fleetBeside(counted, request, around);
  if (request.timings) around.tell(watch.table());
  return clear ? 0 : 3;
}

async function fleetBeside(counted: readonly Counts[], request: AuditRequest, around: Surroundings): Promise<void> {
  const fleet = compareFleet(counted, [], around);
  const labels = [...new Set(counted.map(({ period }) => period.label))].sort();
  const label = [...new Set([labels.at(0) ?? "", labels.at(-1) ?? ""])].join("_");
  const target = request.out === null ? resolve(around.folder, "reports", FLEET_FOLDER, label) : resolve(around.folder, request.out, FLEET_FOLDER);
  await writeFleet(fleet, target);
  if (!request.quiet) around.say(fleetText(fleet, relative(around.folder, join(target, "fleet.html"))));
}

async function auditInto(site: Site, tried: readonly RuleSpec[], request: AuditRequest, around: Surroundings, { sites, names, several, shapes, begin }: AuditRun): Promise<AuditOutcome> {
  const progress = makeProgress(around, request.quiet);
  await sweepNoted(site.folder);
  const { named, parent } = await placesOf(site.name, request, around, { names, several });
  // Often the folder is known beforehand: whoever must be refused need not wait for the audit.
  const foreseen = named ?? (request.redact ? join(parent, REDACTED_FOLDER) : request.period.form === "month" ? join(parent, request.period.month) : null);
  const of = (period: string | null): ResultOf =>
    request.redact ? { result: "redacted", sites: [], period: null } : { result: "audit", sites: [site.name], period, mayChange: [TO_CONFIRM_FILE] };
  if (foreseen !== null) {
    await answersToKeep(foreseen, sites, request);
    await refuseReplacing(foreseen, of(request.period.form === "month" ? request.period.month : null), named);
  }
  const earlier = await earlierAudits(request.earlier, named === null ? parent : null, around);
  const besides = await findFinished(named ?? parent, around.folder);
  const folder = await beginWholeFolder(parent, site.folder);
  try {
    const setAside = request.redact ? null : setAsideLines(folder.openLines("set-aside.csv").add, request.forgetRows);
    const audited = await auditSite(site, {
      period: request.period,
      tried,
      ...(earlier === null ? {} : { earlier: earlier.counts }),
      judgedBefore: besides.finished.map((one) => one.counts),
      madeAt: around.now(),
      onStep: begin,
      watch: {
        onSetAside: (row) => setAside?.row(row),
        onProgress: progress.onProgress,
      },
    });
    setAside?.end();
    const target = named ?? join(parent, request.redact ? REDACTED_FOLDER : audited.period.label);
    const found = earlier === null ? audited : withLeftOut(audited, earlier, relative(around.folder, target));
    const kept = await answersToKeep(target, sites, request);
    progress.step("writing the report");
    begin("data");
    const counts = countsOf(found);
    await writeFindings(request.redact ? redactFindings(found) : found, folder, request, { shapes, kept, begin });
    if (!request.redact) {
      begin("data");
      await folder.write(COUNTS_FILE, jsonText(countsSchema, counts));
      if (!several && counts.bays.length >= FEWEST_FLEET_BAYS) await addFleet(compareFleet([counts], [], around), folder, "fleet/");
    }
    await refuseReplacing(target, of(audited.period.label), named);
    await folder.finish(target, of(audited.period.label), request.redact ? NEUTRAL_MADE : undefined);
    progress.clear();
    if (kept !== null && !request.quiet) around.tell(keptText(kept, relative(around.folder, join(target, TO_CONFIRM_FILE))));
    return { findings: found, counts, folder: target };
  } catch (error) {
    await folder.abandon();
    progress.clear();
    throw error;
  }
}

/** The folder of a site's result, if it was named; and the folder that it lies in. */
async function placesOf(name: string, { out }: AuditRequest, around: Surroundings, { names, several }: Pick<AuditRun, "names" | "several">): Promise<{ readonly named: string | null; readonly parent: string }> {
  const place = resolve(around.folder, out ?? "reports");
  if (out !== null && !several) return { named: place, parent: dirname(place) };
  const folder = join(place, await siteFolderName(place, name, names));
  return out === null ? { named: null, parent: folder } : { named: folder, parent: place };
}

/**
 * Throws `InputError` if `target` holds anything that this result may not replace. A result made for sharing tells neither its site nor its
 * period: it is replaced only in reports/SITE, where the place tells the site.
 */
async function refuseReplacing(target: string, of: ResultOf, named: string | null): Promise<void> {
  await refuseForeign(target, of);
  if (of.result !== "redacted" || named === null || (await readdir(target).catch(() => [])).length === 0) return;
  throw new InputError([
    {
      code: "output-exists", what: "The output folder holds a result made for sharing, and that does not tell of which site and period it is", file: target,
      expected: "an empty or new folder", found: "an earlier result", mend: "delete that folder yourself, or name another one with --out",
    },
  ]);
}

/** What a person wrote into the result that `target` holds. Throws `InputError` where this result would lose it, or replace a diary. */
async function answersToKeep(target: string, sites: readonly Site[], { redact }: AuditRequest): Promise<KeptAnswers | null> {
  await refuseDiaryInside(target, sites);
  const kept = await keptAnswers(target);
  if (kept === null || !redact) return kept;
  throw new InputError([
    {
      code: "output-exists", what: `The ${TO_CONFIRM_FILE} of the earlier result holds answers of yours, and a result made for sharing has no place for them`, file: join(target, TO_CONFIRM_FILE),
      expected: "another folder", found: kept.rows.length === 1 ? "1 row that is filled in" : `${kept.rows.length} rows that are filled in`, mend: "name another folder with --out",
    },
  ]);
}

async function writeFindings(findings: Findings, folder: WholeFolder, { redact, parquet }: AuditRequest, { shapes, kept, begin }: Pick<AuditRun, "shapes" | "begin"> & { readonly kept: KeptAnswers | null }): Promise<void> {
  await folder.write("findings.json", jsonText(findingsSchema, findings));
  await folder.write("signals.csv", signalsCsv(findings));
  await folder.write("episodes.csv", episodesCsv(findings));
  await folder.write("firings.csv", firingsCsv(findings));
  if (!redact) await folder.write(TO_CONFIRM_FILE, withKeptAnswers(toConfirmCsv(findings), kept));
  if (parquet) {
    await folder.write("signals.parquet", parquetBytes(signalsTable(findings)));
    await folder.write("episodes.parquet", parquetBytes(episodesTable(findings)));
    await folder.write("firings.parquet", parquetBytes(firingsTable(findings)));
  }
  begin("pages");
  // Load what draws only now: it needs much memory, and the readings are gone by here.
  const { renderReport } = await import("../report/render.js");
  await folder.write("report.html", await renderReport(findings, shapes));
}
