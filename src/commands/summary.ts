import type { Findings } from "../result/findings.js";
import { oneLine } from "./one-line.js";
import type { RuleFinding } from "../result/rules.js";

/** The lines shown after an audit: each rule's verdict and why, and where the report is. */
export function summaryText(findings: Findings, reportPath: string, siteFile: string): string {
  const width = Math.max(0, ...[...findings.rules, ...findings.tried].map(({ verdict }) => verdict.length));
  const proposalLine = (rule: string): string => {
    const found = findings.proposals.find((one) => one.rule === rule);
    const best = found?.proposals[0];
    return best === undefined ? "" : `\n  ${" ".repeat(width)}  A better rule was found: ${oneLine(best.why)} See the report or \`keyworthy propose ${siteFile}\`.`;
  };
  const rules = findings.rules.map((rule) => `${ruleLines(rule, width)}${proposalLine(rule.name)}`);
  const rows = findings.ledger.reduce((sum, { read }) => sum + read, 0);
  const setAside = findings.ledger.reduce((sum, row) => sum + row.setAside, 0);
  return [
    "",
    `${oneLine(findings.site.name)}, ${findings.period.label}: ${rows.toLocaleString("en")} rows read, ${setAside.toLocaleString("en")} set aside`,
    ...(rules.length === 0 ? ["  no rules in the site file: signals were scored, nothing was judged"] : rules),
    ...(findings.tried.length === 0 ? [] : ["  only tried:", ...findings.tried.flatMap((rule) => ruleLines(rule, width))]),
    ...findings.notes.map((note) => `  note: ${oneLine(note)}`),
    `  report: ${reportPath}`,
    "",
  ].join("\n");
}

function ruleLines(rule: RuleFinding, width: number): string {
  return `  ${rule.verdict.padEnd(width)}  ${oneLine(rule.name)}\n  ${" ".repeat(width)}  ${oneLine(rule.sentence)}`;
}
