import type { Findings } from "../result/findings.js";
import { oneLine } from "./one-line.js";
import type { RuleQuestions } from "../result/questions.js";
import type { RuleFinding } from "../result/rules.js";

/** The lines shown after an audit: each rule's verdict and why, and where the report is. */
export function summaryText(findings: Findings, reportPath: string): string {
  const width = Math.max(0, ...[...findings.rules, ...findings.tried].map(({ verdict }) => verdict.length));
  const rules = findings.rules.map((rule) => ruleLines(rule, width, findings.questions.rules.find((one) => one.rule === rule.name)));
  const rows = findings.ledger.reduce((sum, { read }) => sum + read, 0);
  const setAside = findings.ledger.reduce((sum, row) => sum + row.setAside, 0);
  return [
    "",
    `${oneLine(findings.site.name)}, ${findings.period.label}: ${rows.toLocaleString("en")} rows read, ${setAside.toLocaleString("en")} set aside`,
    ...(rules.length === 0 ? ["  no rules in the site file: signals were scored, nothing was judged"] : rules),
    ...(findings.tried.length === 0 ? [] : ["  only tried:", ...findings.tried.map((rule) => ruleLines(rule, width))]),
    ...findings.notes.map((note) => `  note: ${oneLine(note)}`),
    `  report: ${reportPath}`,
    "",
  ].join("\n");
}

/** The verdict, why, and, where answers can change it, what to do about that. */
function ruleLines(rule: RuleFinding, width: number, asked?: RuleQuestions): string {
  const below = [rule.sentence, ...(asked === undefined || asked.settledBy === null ? [] : [asked.why])];
  return [`  ${rule.verdict.padEnd(width)}  ${oneLine(rule.name)}`, ...below.map((line) => `  ${" ".repeat(width)}  ${oneLine(line)}`)].join("\n");
}
