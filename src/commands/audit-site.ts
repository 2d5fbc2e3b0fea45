import { readdir } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { countsOf } from "../result/count-findings.js";
import { type Counts, countsSchema } from "../result/counts.js";
import { setAsideLines } from "./set-aside-lines.js";
import { redactFindings } from "../result/redact.js";
import { NEUTRAL_MADE } from "../result/redact-clock.js";
import { type Findings, findingsSchema } from "../result/findings.js";
import { episodesCsv, episodesTable, firingsCsv, firingsTable, signalsCsv, signalsTable } from "../result/tables.js";
import { toConfirmCsv } from "../result/to-confirm-csv.js";
import { fleetOf } from "../compare/fleets/fleet.js";
import { selectEarlier } from "../compare/months/select.js";
import { InputError } from "../ground/problem.js";
import type { AskedPeriod } from "../intake/period.js";
import { auditSite } from "../pipeline.js";
import type { ChartShapes } from "../report/charts/chart-shapes.js";
import { jsonText } from "../result/json-text.js";
import type { RuleSpec, Site } from "../site/site.js";
import { earlierAudits, withLeftOut, type EarlierRequest } from "./earlier-audits.js";
import { COUNTS_FILE, findFinished } from "./finished-audits.js";
import { addFleet, compareFleet, FLEET_FOLDER } from "./fleet-folder.js";
import { siteFolderName } from "./folder-name.js";
import { type Diaries, keptAnswers, keptText, refuseDiaryInside, TO_CONFIRM_FILE, withKeptAnswers, type KeptAnswers } from "./kept-answers.js";
import { makeProgress } from "./progress.js";
import type { Share } from "./share.js";
import type { Stopwatch } from "./stopwatch.js";
import { summaryText } from "./summary.js";
import type { Surroundings } from "./surroundings.js";
import { sweepNoted } from "./unfinished.js";
import { beginWholeFolder, type WholeFolder } from "./whole-folder.js";
import { refuseForeign, type ResultOf } from "./written-list.js";

/** The folder of a redacted result: unlike the others its name does not tell the period. */
const REDACTED_FOLDER = "redacted";
/** A single site with this many bays gets a fleet result too. With two bays nobody can tell which one is odd. */
const FEWEST_FLEET_BAYS = 3;

/** Of which sites a page is drawn. */
export type Pages = "all" | "listed" | "none";

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
  /** Draw the page of every site, of those with something to do, or of none. */
  readonly pages: Pages;
  /** The fleet file, which says who belongs; null: the site files do. */
  readonly fleetFile: string | null;
  readonly quiet: boolean;
  /** Tell how long each step took. */
  readonly timings: boolean;
}

/** What the audits of one run have in common. */
export interface AuditRun {
  /** Where the diaries of all sites of the run lie. */
  readonly diaries: readonly Diaries[];
  /** Names of all sites of the run, those of other shares too: folders are told apart by them. */
  readonly names: readonly string[];
  /** The names of the sites audited together; null for a site by itself. */
  readonly round: readonly string[] | null;
  /** Charts compiled for one report serve the others too. */
  readonly shapes: ChartShapes;
  /** Progress is shown of one site at a time. */
  readonly showProgress: boolean;
  readonly begin: Stopwatch["begin"];
}

/** What came of one site. Plain data: it goes from thread to thread. */
export interface AuditOutcome {
  readonly counts: Counts;
  /** Earlier audits of the site that were found. */
  readonly earlier: readonly Counts[];
  /** Where the result was written, and its page; null: none was drawn. */
  readonly folder: string;
  readonly page: string | null;
  readonly clear: boolean;
  readonly summary: string;
}

/**
 * Audits one site into its folder: completely or not at all. Throws `InputError` where its input is wrong, or the folder
 * may not be replaced.
 */
export async function auditInto(site: Site, tried: readonly RuleSpec[], request: AuditRequest, around: Surroundings, { diaries, names, round, shapes, showProgress, begin }: AuditRun): Promise<AuditOutcome> {
  const several = round !== null;
  const progress = makeProgress(around, request.quiet || !showProgress);
  await sweepNoted(site.folder);
  const { named, parent } = await placesOf(site.name, request, around, names, several);
  // Often the folder is known beforehand: whoever must be refused need not wait for the audit.
  const foreseen = named ?? (request.redact ? join(parent, REDACTED_FOLDER) : request.period.form === "month" ? join(parent, request.period.month) : null);
  const of = (period: string | null): ResultOf =>
    request.redact ? { result: "redacted", sites: [], period: null } : { result: "audit", sites: [site.name], period, mayChange: [TO_CONFIRM_FILE] };
  if (foreseen !== null) {
    await answersToKeep(foreseen, diaries, request);
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
    const kept = await answersToKeep(target, diaries, request);
    progress.step("writing the report");
    begin("data");
    const counts = { ...countsOf(found), ...(round === null ? {} : { round: { sites: [...round] } }) };
    const isDrawn = request.pages === "all" || (request.pages === "listed" && hasSomethingToDo(counts, found));
    await writeFindings(request.redact ? redactFindings(found) : found, folder, request, { shapes: isDrawn ? shapes : null, kept, begin, fleetPage: fleetPageOf(counts, target, request, around, round) });
    if (!request.redact) {
      begin("data");
      await folder.write(COUNTS_FILE, jsonText(countsSchema, counts));
      if (!several && counts.bays.length >= FEWEST_FLEET_BAYS) await addFleet(compareFleet([counts, ...selectEarlier(earlier?.counts ?? [], site.name, counts.period.from).used], { leftOut: [] }, around), folder, "fleet/", () => (isDrawn ? "../../report.html" : null));
    }
    await refuseReplacing(target, of(audited.period.label), named);
    await folder.finish(target, of(audited.period.label), request.redact ? NEUTRAL_MADE : undefined);
    progress.clear();
    if (kept !== null && !request.quiet) around.tell(keptText(kept, relative(around.folder, join(target, TO_CONFIRM_FILE))));
    return {
      counts,
      earlier: earlier?.counts ?? [],
      folder: target,
      clear: found.rules.every(({ verdict }) => verdict === "clear to enable"),
      page: isDrawn ? join(target, "report.html") : null,
      summary: summaryText(found, isDrawn ? relative(around.folder, join(target, "report.html")) : null, relative(around.folder, site.file)),
    };
  } catch (error) {
    await folder.abandon();
    progress.clear();
    throw error;
  }
}

/** Whether a rule is not clear, or a sensor or an export of the site needs somebody by the site's own limits. */
function hasSomethingToDo(counts: Counts, { rules }: Findings): boolean {
  if (rules.some(({ verdict }) => verdict !== "clear to enable")) return true;
  return fleetOf([counts], { madeAt: 0, madeBy: "", leftOut: [] }).orders.length > 0;
}

/** Where the page that compares this site or its bays with others will lie, seen from its report; null where this run makes none, or its place is not known yet. */
function fleetPageOf({ bays }: Counts, target: string, { out, period, redact, share }: AuditRequest, around: Surroundings, round: AuditRun["round"]): string | null {
  if (redact) return null;
  if (round === null) return bays.length >= FEWEST_FLEET_BAYS ? "fleet/fleet.html" : null;
  if (share !== null || (out === null && period.form !== "month")) return null;
  const folder = fleetFolderOf(out, period.form === "month" ? period.month : "", around);
  return relative(target, join(folder, "fleet.html")).split(sep).map(encodeURIComponent).join("/");
}

/** The folder of the fleet result beside the sites' own. */
export function fleetFolderOf(out: string | null, label: string, around: Surroundings): string {
  return out === null ? resolve(around.folder, "reports", FLEET_FOLDER, label) : resolve(around.folder, out, FLEET_FOLDER);
}

/** The folder of a site's result, if it was named; and the folder that it lies in. */
async function placesOf(name: string, { out }: AuditRequest, around: Surroundings, names: readonly string[], several: boolean): Promise<{ readonly named: string | null; readonly parent: string }> {
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
async function answersToKeep(target: string, sites: readonly Diaries[], { redact }: AuditRequest): Promise<KeptAnswers | null> {
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

async function writeFindings(findings: Findings, folder: WholeFolder, { redact, parquet }: AuditRequest, { shapes, kept, begin, fleetPage }: Pick<AuditRun, "begin"> & { readonly shapes: ChartShapes | null; readonly kept: KeptAnswers | null; readonly fleetPage: string | null }): Promise<void> {
  await folder.write("findings.json", jsonText(findingsSchema, findings));
  await folder.write("signals.csv", signalsCsv(findings));
  await folder.write("episodes.csv", episodesCsv(findings));
  await folder.write("firings.csv", firingsCsv(findings));
  if (!redact) await folder.write(TO_CONFIRM_FILE, withKeptAnswers(toConfirmCsv(findings), kept));
  if (parquet) {
    const { parquetBytes } = await import("../result/parquet.js");
    await folder.write("signals.parquet", parquetBytes(signalsTable(findings)));
    await folder.write("episodes.parquet", parquetBytes(episodesTable(findings)));
    await folder.write("firings.parquet", parquetBytes(firingsTable(findings)));
  }
  if (shapes === null) return;
  begin("pages");
  // Load what draws only now: it needs much memory, and the readings are gone by here.
  const { renderReport } = await import("../report/render.js");
  await folder.write("report.html", await renderReport(findings, shapes, fleetPage));
}
