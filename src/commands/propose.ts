import { resolve } from "node:path";
import { DateTime } from "luxon";
import { auditSite } from "../pipeline.js";
import { checkPeriod, type AskedPeriod } from "../intake/period.js";
import { InputError } from "../ground/problem.js";
import type { Findings } from "../result/findings.js";
import type { Proposal, ProposalFigures, RuleProposals } from "../result/proposals.js";
import { loadSite } from "../site/load.js";
import type { Act, Site } from "../site/site.js";
import { periodOptionNames } from "./period-options.js";
import { makeProgress } from "./progress.js";
import { oneLine } from "./one-line.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/** What the command line asks of `keyworthy propose`. */
export interface ProposeRequest {
  readonly siteFile: string;
  /** Only for rules of this act; null: of any. */
  readonly act: Act | null;
  /** Only for the rule of this name; null: for all. */
  readonly rule: string | null;
  readonly period: AskedPeriod;
  readonly quiet: boolean;
}

/**
 * Says which other rules would do better than those that are not clear, as text to paste into the site file, which it
 * never touches. 0: at least one was found; 3: none.
 */
export async function runPropose(request: ProposeRequest, around: Surroundings): Promise<ExitStatus> {
  const site = await loadSite(resolve(around.folder, request.siteFile));
  checkPeriod(site, request.period, periodOptionNames);
  const asked = askedRules(site, request);
  const progress = makeProgress(around, request.quiet);
  const findings = await auditSite(site, { period: request.period, madeAt: around.now(), watch: { onProgress: progress.onProgress } }).finally(() => {
    progress.clear();
  });
  const found = asked.map((name) => findings.proposals.find(({ rule }) => rule === name) ?? name);
  const some = found.some((one) => typeof one !== "string" && one.proposals.length > 0);
  const intro = some ? "Paste what you like of this under `rules:` in the site file; or keep it as a file, and try it with `keyworthy audit --try FILE`." : "Nothing to paste.";
  around.say([`# ${oneLine(site.name)}, ${findings.period.label}. ${intro}`, ...(some ? ["rules:"] : []), ...found.map((one) => (typeof one === "string" ? clearText(one, findings) : proposalsText(one, site.timeZone))), ""].join("\n"));
  return some ? 0 : 3;
}

function askedRules({ rules, file }: Site, { act, rule }: ProposeRequest): string[] {
  const asked = rules.filter((one) => (act === null || one.act === act) && (rule === null || one.name === rule)).map(({ name }) => name);
  if (asked.length > 0) return asked;
  throw new InputError([
    {
      code: "command-line",
      what: rule === null ? `The site has no ${act === null ? "rules" : `rule that does "${act}"`}` : `The site has no rule called "${rule}"${act === null ? "" : ` that does "${act}"`}`,
      file,
      expected: rules.length === 0 ? "a rule to do better than" : `one of: ${rules.map(({ name }) => name).join("; ")}`,
    },
  ]);
}

function clearText(rule: string, { rules }: Findings): string {
  const verdict = rules.find(({ name }) => name === rule)?.verdict ?? "";
  return `\n# ${oneLine(rule)}: ${verdict}. No better rule is looked for.`;
}

function proposalsText({ rule, present, proposals, why }: RuleProposals, zone: string): string {
  const head = `\n# ${oneLine(rule)}: ${oneLine(why)}`;
  return proposals.length === 0 ? head : [head, `# The present rule, on the part of the history that was not used to choose: ${figuresText(present.heldOut)}`, ...proposals.map((one) => proposalText(one, zone))].join("\n");
}

function proposalText({ yaml, heldOut, why, groups, gap, rightWhenNote, mended, moments }: Proposal, zone: string): string {
  const comments = [
    why,
    `On the part of the history that was not used to choose: ${figuresText(heldOut)}`,
    `Of the present rule's ${mended.wrongOf} firings that were wrong or look wrong, it leaves out ${mended.wrong}. Of its ${mended.missedOf} late or missed ones, ${mended.missed} come in time.`,
    `At least ${groups} independent reports must be false at the same time to make it act. ${gap}`,
    ...(rightWhenNote === null ? [] : [rightWhenNote]),
    ...moments.map(({ at, was, becomes }) => `  ${DateTime.fromMillis(at, { zone, locale: "en" }).toFormat("d LLL yyyy HH:mm:ss")}: ${was} -> ${becomes}`),
  ];
  return `${comments.map((line) => `  # ${oneLine(line)}`).join("\n")}\n${yaml}`;
}

function figuresText({ wrong, looksWrong, unclear, firings, late, missed, wanted, delay }: ProposalFigures): string {
  const usual = delay.value === null ? "" : `; usual delay ${Math.round(delay.value)} s`;
  return `of ${firings} firings, ${wrong} wrong, ${looksWrong} that look wrong and ${unclear} that nobody can judge; of ${wanted} wanted, ${late} late and ${missed} missed${usual}.`;
}
