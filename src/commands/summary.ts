import type { Findings } from "../result/findings.js";
import { oneLine } from "./one-line.js";
import type { RuleFinding } from "../result/rules.js";

/** The lines shown after an audit: each rule's verdict and why, and where the report is. */
export function summaryText(findings: Findings, reportPath: string): string {
  const width = Math.max(0, ...[...findings.rules, ...findings.tried].map(({ verdict }) => verdict.length));
  const rules = findings.rules.map((rule) => ruleLines(rule, width));
  const rows = findings.ledger.reduce((sum, { read }) => sum + read, 0);
  const setAside = findings.ledger.reduce((sum, row) => sum + row.setAside, 0);
  return [
    "",
    `${oneLine(findings.site.name)}, ${findings.period.label}: ${rows.toLocaleString("en")} rows read, ${setAside.toLocaleString("en")} set aside`,
    ...(rules.length === 0 ? ["  no rules in the site file: signals were scored, nothing was judged"] : rules),
    ...(findings.tried.length === 0 ? [] : ["  only tried:", ...findings.tried.flatMap((rule) => ruleLines(rule, width))]),
    ...findings.mend.slice(0, 1).map(({ text, why }) => `  mend first: ${oneLine(text)} ${oneLine(why)}`),
    ...findings.notes.map((note) => `  note: ${oneLine(note)}`),
    `  report: ${reportPath}`,
    "",
  ].join("\n");
}

function ruleLines(rule: RuleFinding, width: number): string {
  return `  ${rule.verdict.padEnd(width)}  ${oneLine(rule.name)}\n  ${" ".repeat(width)}  ${oneLine(rule.sentence)}`;
}
