import { render } from "preact-render-to-string";
import { h } from "preact";
import { beforeAll, describe, expect, it } from "vitest";
import { Clock } from "../../../src/report/parts/local-time.js";
import { Cumulated } from "../../../src/report/parts/cumulated.js";
import { hasMonths, Months } from "../../../src/report/parts/months.js";
import { decide } from "../../../src/decide/decide.js";
import { localClock } from "../../../src/report/local-time.js";
import { findingsSchema } from "../../../src/result/findings.js";
import { rowsAt, whole } from "../../../src/report/traced.js";
import { renderReport } from "../../../src/report/render.js";
import { exampleFindings } from "../example-findings.js";
import { exampleMonths, examplePast } from "../example-months.js";
import { jsonText } from "../../../src/result/json-text.js";

const bare = (html: string): string => html.replace(/<[^>]*>/g, "").replace(/&quot;/g, '"');
const textOf = (findings: typeof examplePast): string => bare(render(h(Clock.Provider, { value: localClock("Europe/London") }, h(Months, { findings, drawings: { months: null, monthClocks: null } }))));

describe("earlier periods", () => {
  it("are an example by the schema", () => {
    expect(() => jsonText(findingsSchema, examplePast)).not.toThrow();
  });

  it("are no part of a report without any", () => {
    const empty = { earlier: [], gaps: [], leftOut: [], changes: [], series: [], clocks: [], siteFile: [], notCompared: [], startedAnew: [] };
    expect(hasMonths(exampleFindings)).toBe(false);
    expect(hasMonths({ ...exampleFindings, months: empty })).toBe(false);
  });

  it("say which there are, which months none covers, which were not used, and whose evidence starts anew", () => {
    const page = textOf(examplePast);
    for (const words of ["Beside 2 earlier periods: 2026-07, 2026-08.", "No result covers Tue 1 Sept 2026, 00:00:00 to Thu 1 Oct 2026, 00:00:00", "Not used: reports/heron-lane/2026-06: it is of another site", "its evidence starts anew", "a change of the site file, not of the sensor", "it is an older result, which kept no clock offsets"]) {
      expect(page).toContain(words);
    }
  });

  it("say what changed beyond chance, or that nothing did", () => {
    expect(textOf(examplePast)).toContain("Changed beyond what chance brings, of 4 comparisons:bay-1-wall: missed visits rose");
    const calm = { ...exampleMonths, changes: exampleMonths.changes.map((change) => ({ ...change, beyondChance: false })) };
    expect(textOf({ ...examplePast, months: calm })).toContain("Nothing changed beyond what chance brings, of 4 comparisons.");
  });

  it("leave to the rules what their verdicts rest on over all of them", () => {
    expect(textOf(examplePast)).not.toContain("period by period");
  });
});

describe("the months of a rule together", () => {
  it("set what this period alone would have said beside the verdict over all", () => {
    const rule = rowsAt(whole(examplePast), "rules")[1]!;
    const page = bare(render(h(Clock.Provider, { value: localClock("Europe/London") }, h(Cumulated, { rule }))));
    expect(page).toContain(`Over all periods together: ${rule.of.verdict}. This period alone: do not enable. It is this month alone that breaks the limit.`);
  });
});

describe("the report of a site with earlier periods", () => {
  let html: string;
  beforeAll(async () => {
    html = await renderReport(examplePast);
  });

  it("has a fold of its own for them, with its pictures", () => {
    expect(html).toContain('<div class="fold-body" id="months">');
    expect(html).toContain('aria-labelledby="months-caption"');
    expect(html).toContain('aria-labelledby="month-clocks-caption"');
  });

  it("says in the first screen that the counts are of all months, and has them in a fold of the rule", async () => {
    expect((await renderReport({ ...examplePast, decision: decide(examplePast, { siteFile: "site.yaml", diary: [] }) })).replace(/<[^>]*>/g, "")).toContain("3 of 240 unlocks wrong in 3 months.");
    expect(html).toContain('<div class="fold-body" id="rule-2-over-months">');
  });

  it("says nothing twice: every table and fold stands once", () => {
    const ids = [...html.matchAll(/ id="([^"]*)"/g)].map(([, id]) => id);
    expect(ids.filter((id, i) => ids.indexOf(id) < i)).toEqual([]);
    expect(html.match(/ rests on, period by period/g)).toHaveLength(examplePast.rules.filter(({ cumulated }) => cumulated !== null).length);
  });

  it("shows what was seen over all periods", () => {
    expect(html).toContain('data-from="rules.1.cumulated.wrongPerYear.unverifiedAsWrong"');
  });
});
