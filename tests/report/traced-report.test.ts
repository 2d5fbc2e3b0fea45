import { beforeAll, describe, expect, it } from "vitest";
import { jsonText } from "../../src/result/json-text.js";
import { type Findings, findingsSchema } from "../../src/result/findings.js";
import { renderReport } from "../../src/report/render.js";
import { exampleFindings, exampleFleet } from "./example-findings.js";
import { examplePast } from "./example-months.js";
import { tracedNumbers, untracedText, wronglyTraced } from "./traced-numbers.js";

describe.each([
  ["a household", exampleFindings],
  ["a fleet", exampleFleet],
  ["a household with earlier months", examplePast],
])("every number of the report on %s", (_, findings: Findings) => {
  let html: string;
  beforeAll(async () => {
    html = await renderReport(findings);
  });

  it("can be written again from where it says it came from in findings.json", () => {
    expect(tracedNumbers(html).length).toBeGreaterThan(150);
    expect(wronglyTraced(html, findingsSchema.parse(JSON.parse(jsonText(findingsSchema, findings))))).toEqual([]);
  });

  it("says where it came from, in cells of tables and among the numbers that decide", () => {
    const cells = [...html.matchAll(/<td(?: role="cell")?([^>]*)>([\s\S]*?)<\/td>/g)].filter(([, look = ""]) => !look.includes('class="prose"'));
    const deciding = [...html.matchAll(/<p class="bounds said">([\s\S]*?)<\/p>/g)];
    expect(cells.length).toBeGreaterThan(150);
    expect(deciding).toHaveLength(findings.rules.length);
    for (const text of cells.map((match) => match[2] ?? "")) expect(untracedText(text), text).not.toMatch(/\d/);
    // Beside the bounds stand the words of the findings, to the letter.
    const said = findings.decision.rules.flatMap(({ roads }) => roads.map(({ text }) => text)).toSorted((a, b) => b.length - a.length);
    for (const [, text = ""] of deciding) expect(said.reduce((left, words) => left.replaceAll(words, ""), untracedText(text)), text).not.toMatch(/\d/);
  });

  it("stands for an instant of the findings where it is one", () => {
    const stored = jsonText(findingsSchema, findings);
    const instants = new Set([...html.matchAll(/<time datetime="([^"]*)"/g)].map((match) => match[1] ?? ""));
    expect(instants.size).toBeGreaterThan(20);
    for (const instant of instants) expect(stored).toContain(`"${instant}"`);
  });
});
