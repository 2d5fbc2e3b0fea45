import { shellWord } from "../ground/shell-word.js";
import { relative, resolve } from "node:path";
import { InputError } from "../ground/problem.js";
import { checkPeriod, type AskedPeriod } from "../intake/period.js";
import { auditSite } from "../pipeline.js";
import type { Findings } from "../result/findings.js";
import { loadSite } from "../site/load.js";
import type { Site } from "../site/site.js";
import { askQuestions, type Asked } from "./confirm/ask.js";
import { findDiaryPlace, type DiaryPlace } from "./confirm/diary-place.js";
import { makeDiaryWriter } from "./confirm/diary-writer.js";
import { askAtTerminal } from "./confirm/prompts.js";
import { shortestWay } from "./confirm/shortest-way.js";
import { sensorLanes } from "./confirm/sensor-lanes.js";
import { earlierAudits } from "./earlier-audits.js";
import { findFinished } from "./finished-audits.js";
import { siteFolderName } from "./folder-name.js";
import { oneLine } from "./one-line.js";
import { periodOptionNames } from "./period-options.js";
import { makeProgress } from "./progress.js";
import type { ExitStatus, Surroundings, Terminal } from "./surroundings.js";

/** Where a terminal does not say how wide it is. */
const USUAL_COLUMNS = 80;

/** What the command line asks of `keyworthy confirm`. */
export interface ConfirmRequest {
  readonly siteFile: string;
  readonly period: AskedPeriod;
  readonly quiet: boolean;
}

/**
 * Audits a site in memory and asks at the terminal what only memory can settle; each answer goes into the diary at once. Started
 * again it goes on with what is left.
 */
export async function runConfirm(request: ConfirmRequest, around: Surroundings): Promise<ExitStatus> {
  if (around.terminal === null) {
    throw new InputError([{ code: "command-line", what: "`keyworthy confirm` asks at a terminal, but its input or output is not a terminal", expected: "to be started in a terminal, without | < or >", mend: "start it there; or audit the site, fill in the to-confirm.csv of the result, copy it beside the site file and name it under `diary`" }]);
  }
  const site = await loadSite(resolve(around.folder, request.siteFile));
  checkPeriod(site, request.period, periodOptionNames);
  const place = await findDiaryPlace(site);
  const findings = await auditedInMemory({ ...site, diary: place.readable }, request, around);
  if (findings.questions.list.length === 0) {
    around.say(noneText(findings));
    return 0;
  }
  const outcome = await askAll({ site, place, findings }, around, around.terminal);
  around.say(endText(outcome, relative(around.folder, place.path), request));
  return 0;
}

async function auditedInMemory(site: Site, { period, quiet }: ConfirmRequest, around: Surroundings): Promise<Findings> {
  const progress = makeProgress(around, quiet);
  // The same earlier results as `audit` takes, so that it asks what the report speaks of.
  const results = resolve(around.folder, "reports", await siteFolderName(resolve(around.folder, "reports"), site.name, []));
  const earlier = await earlierAudits({ places: [], alone: false }, results, around);
  const besides = await findFinished(results, around.folder);
  try {
    return await auditSite(site, {
      period,
      ...(earlier === null ? {} : { earlier: earlier.counts }),
      judgedBefore: besides.finished.map(({ counts }) => counts),
      madeAt: around.now(),
      watch: { onProgress: progress.onProgress },
    });
  } finally {
    progress.clear();
  }
}

interface Asking {
  readonly site: Site;
  readonly place: DiaryPlace;
  readonly findings: Findings;
}

async function askAll({ site, place, findings }: Asking, around: Surroundings, terminal: Terminal): Promise<Asked> {
  around.say(shortestWay(findings.questions));
  const columns = "columns" in terminal.output && typeof terminal.output.columns === "number" ? terminal.output.columns : USUAL_COLUMNS;
  const asked = await askQuestions(findings.questions.list, askAtTerminal(terminal), makeDiaryWriter(place, site.timeZone, around.now), (question) => sensorLanes(findings, question.around, columns));
  if (place.remark !== null && asked.answered > 0) around.say(`${oneLine(place.remark)}\n`);
  return asked;
}

function noneText({ rules, questions }: Findings): string {
  const whys = questions.rules.map(({ rule, why }) => `  ${oneLine(rule)}: ${oneLine(why)}`);
  return ["There is nothing to ask you.", ...(whys.length > 0 ? whys : rules.length === 0 ? ["  The site file has no rules."] : []), ""].join("\n");
}

function endText({ answered, unknown, left }: Asked, file: string, { siteFile, period }: ConfirmRequest): string {
  const count = answered === 1 ? "1 answer" : `${answered} answers`;
  const next = period.form === "month" ? ` --month ${period.month}` : period.form === "range" ? `${period.from === null ? "" : ` --from ${period.from}`}${period.to === null ? "" : ` --to ${period.to}`}` : "";
  return [
    answered === 0 ? "No answer was given, and nothing was written." : `${count} written into ${file}${unknown === 0 ? "" : `, ${unknown} of them “I don't know”`}.`,
    ...(left === 0 ? [] : [`${left === 1 ? "1 question is" : `${left} questions are`} left: run \`keyworthy confirm ${shellWord(siteFile)}${next}\` again whenever you like.`]),
    ...(answered === 0 ? [] : [`To see what comes of it: keyworthy audit ${shellWord(siteFile)}${next}`]),
    "",
  ]
    .map(oneLine)
    .join("\n");
}
