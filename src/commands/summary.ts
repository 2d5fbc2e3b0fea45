import { shellWord } from "../ground/shell-word.js";
import type { Findings } from "../result/findings.js";
import { oneLine } from "./one-line.js";
import type { RuleQuestions } from "../result/questions.js";
import type { RuleFinding } from "../result/rules.js";

/** Diary entries that sensors contradict: more are in the report. */
const SHOWN_CONFLICTS = 5;

/** The lines shown after an audit: each rule's verdict and why, and where the report is. */
export function summaryText(findings: Findings, reportPath: string | null, siteFile: string): string {
  const width = Math.max(0, ...[...findings.rules, ...findings.tried].map(({ verdict }) => verdict.length));
  const proposalLine = (rule: string): string => {
    const found = findings.proposals.find((one) => one.rule === rule);
    const best = found?.proposals[0];
    return best === undefined ? "" : `\n  ${" ".repeat(width)}  A better rule was found. ${oneLine(best.why)} See the report or \`keyworthy propose ${oneLine(shellWord(siteFile))}\`.`;
  };
  const rules = findings.rules.map((rule) => `${ruleLines(rule, width, findings.questions.rules.find((one) => one.rule === rule.name))}${proposalLine(rule.name)}`);
  const rows = findings.ledger.reduce((sum, { read }) => sum + read, 0);
  const setAside = findings.ledger.reduce((sum, row) => sum + row.setAside, 0);
  return [
    "",
    `${oneLine(findings.site.name)}, ${oneLine(findings.period.label)}: ${rows.toLocaleString("en")} rows read, ${setAside.toLocaleString("en")} set aside`,
    `  ${oneLine(findings.decision.headline)}`,
    ...(rules.length === 0 ? ["  no rules in the site file: signals were scored, nothing was judged"] : rules),
    ...(findings.tried.length === 0 ? [] : ["  only tried:", ...findings.tried.map((rule) => ruleLines(rule, width))]),
    ...diaryLines(findings.diary),
    ...findings.mend.slice(0, 1).map(({ text, why }) => `  mend first: ${oneLine(text)} ${oneLine(why)}`),
    ...findings.notes.map((note) => `  note: ${oneLine(note)}`),
    ...(reportPath === null ? [] : [`  report: ${oneLine(reportPath)}`]),
    "",
  ].join("\n");
}

/** The verdict, why, and, where answers can change it, what to do about that. */
function ruleLines(rule: RuleFinding, width: number, asked?: RuleQuestions): string {
  const below = [rule.sentence, ...(asked === undefined || asked.settledBy === null ? [] : [asked.why])];
  return [`  ${rule.verdict.padEnd(width)}  ${oneLine(rule.name)}`, ...below.map((line) => `  ${" ".repeat(width)}  ${oneLine(line)}`)].join("\n");
}

/** How many answers were used, and which of them signals contradict beyond lag. */
function diaryLines({ entries, conflicts: { count, list } }: Findings["diary"]): string[] {
  if (entries === 0) return [];
  const used = `  diary: ${entries === 1 ? "1 entry" : `${entries} entries`} used`;
  if (list.length === 0) return [`${used}, and no sensor contradicts ${entries === 1 ? "it" : "them"}`];
  const signalsByRow = new Map<string, Set<string>>();
  for (const { file, line, subject, signal } of list) {
    const row = `${file}:${line} about ${subject}`;
    signalsByRow.set(row, (signalsByRow.get(row) ?? new Set()).add(signal));
  }
  const rows = [...signalsByRow].slice(0, SHOWN_CONFLICTS).map(([row, signals]) => `    ${oneLine(row)}: ${oneLine([...signals].join(", "))}`);
  const further = signalsByRow.size - rows.length;
  return [`${used}; sensors contradict ${count > list.length ? "at least " : ""}${signalsByRow.size} of them:`, ...rows, ...(further > 0 ? [`    and ${further} more, in the report`] : [])];
}
