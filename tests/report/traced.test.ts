import { beforeAll, describe, expect, it } from "vitest";
import type { Findings } from "../../src/findings/schema.js";
import { plainNumber, type WriterName, writers } from "../../src/report/writers.js";
import { renderReport } from "../../src/report/render.js";
import { exampleFindings, exampleFleet } from "./example-findings.js";
import { examplePast } from "./example-months.js";

/** The value at a path such as `signals.3.knownShare`; a `*` makes a list of what every entry holds there. */
function valueAt(data: unknown, path: string): unknown {
  let at: unknown = data;
  const keys = path.split(".");
  for (const [index, key] of keys.entries()) {
    if (key === "*") return (at as unknown[]).map((entry) => valueAt(entry, keys.slice(index + 1).join(".")));
    at = (at as Readonly<Record<string, unknown>> | undefined)?.[key];
  }
  return at;
}

const unescaped = (html: string): string => html.replace(/<[^>]*>/g, "").replace(/&lt;/g, "<").replace(/&gt;/g, ">").replace(/&quot;/g, '"').replace(/&amp;/g, "&");
const dataOf = (html: string) =>
  [...html.matchAll(/<data(?: class="[^"]*")? value(?:="([^"]*)")? data-from="([^"]*)" data-as="([^"]*)">([\s\S]*?)<\/data>/g)].map(([, plain = "", from = "", as = "", text = ""]) => ({ plain, from, as, text: unescaped(text) }));
/** Cells and deciding numbers without what carries its origin, without names and instants. */
const untraced = (html: string): string => unescaped(html.replace(/<data[^>]*>[\s\S]*?<\/data>|<time[^>]*>[\s\S]*?<\/time>|<bdi[^>]*>[\s\S]*?<\/bdi>|<svg[\s\S]*?<\/svg>/g, ""));

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
    const data = dataOf(html);
    expect(data.length).toBeGreaterThan(150);
    expect(html.split("<data ")).toHaveLength(data.length + 1);
    const stored: unknown = JSON.parse(JSON.stringify(findings));
    for (const { plain, from, as, text } of data) {
      const value = valueAt(stored, from);
      expect(value, from).toBeDefined();
      expect(`${from}: ${text}`).toBe(`${from}: ${(writers[as as WriterName] as (value: unknown) => string)(value)}`);
      const number = plainNumber(value, as as WriterName);
      expect(`${from}: ${plain}`).toBe(`${from}: ${number === null ? "" : Number(number.toPrecision(6))}`);
    }
  });

  it("says where it came from, in cells of tables and among the numbers that decide", () => {
    const cells = [...html.matchAll(/<td role="cell"([^>]*)>([\s\S]*?)<\/td>/g)].filter(([, look = ""]) => !look.includes('class="prose"'));
    const deciding = [...html.matchAll(/<dl class="deciding">([\s\S]*?)<\/dl>/g)];
    expect(cells.length).toBeGreaterThan(150);
    expect(deciding).toHaveLength(findings.rules.length);
    for (const text of [...cells.map((match) => match[2] ?? ""), ...deciding.map((match) => match[1] ?? "")]) expect(untraced(text), text).not.toMatch(/\d/);
  });

  it("stands for an instant of the findings where it is one", () => {
    const stored = JSON.stringify(findings);
    const instants = new Set([...html.matchAll(/<time datetime="([^"]*)"/g)].map((match) => match[1] ?? ""));
    expect(instants.size).toBeGreaterThan(20);
    for (const instant of instants) expect(stored).toContain(`"${instant}"`);
  });
});
