import { h } from "preact";
import { render } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import type { Drawing } from "../../../src/report/charts/drawing.js";
import { localClock } from "../../../src/report/local-time.js";
import { Clock } from "../../../src/report/parts/local-time.js";
import { MOST_NEAR, NearMisses } from "../../../src/report/parts/near-misses.js";
import { isoText } from "../../../src/result/values.js";
import { exampleFindings } from "../example-findings.js";
import type { NearMissFinding } from "../../../src/result/rules.js";

const rule = exampleFindings.rules[0]!;
const [near, other] = rule.margin.nearMisses;
const clock = localClock("Europe/London");
const drawing: Drawing = { wide: "<svg>wide</svg>", narrow: "<svg>narrow</svg>" };
const page = (nearMisses: NearMissFinding[], drawings: readonly (Drawing | null)[]): string => render(h(Clock.Provider, { value: clock }, h(NearMisses, { rule: { of: { ...rule, margin: { ...rule.margin, nearMisses } }, from: "rules.0", index: 0 }, drawings })));
const text = (html: string): string => html.replace(/<[^>]*>/g, "").replace(/&quot;/g, '"');
const rowsOf = (html: string): string[] => html.slice(html.indexOf("<tbody")).split('<tr role="row"').slice(1);

describe("near misses in the report", () => {
  it("have their diagram folded under their row, with when, what stood in the way, and the lanes in words", () => {
    const rows = rowsOf(page([other!, near!], [null, drawing]));
    expect(rows).toHaveLength(3);
    expect(rows[2]).toContain('class="under"');
    expect(rows[2]).toContain("<summary>Timing diagram</summary>");
    expect(rows[2]).toContain("<svg>wide</svg>");
    expect(text(rows[2]!)).toContain("between Sun 4 Oct 2026, 10:12:00 and Sun 4 Oct 2026, 12:40:30");
    expect(text(rows[2]!)).toContain("In the way: phone-mira.");
    expect(text(rows[2]!)).toContain("signal phone-mira: off at the start, unknown from 11:30:00, off from 11:52:00.");
    expect(rows[1]).toContain(isoText(near!.from));
  });

  it("say in words how many are drawn, which, and where the rest stands", () => {
    expect(text(page([near!], [drawing]))).toContain("It is drawn, folded under its row.");
    expect(text(page([near!, near!], [drawing, drawing]))).toContain("Each is drawn, folded under its row.");
    expect(text(page([near!, other!], [drawing, null]))).toContain("The worst is drawn, folded under the row: those vouched for before the others, the longest first. All are in findings.json.");
    expect(text(page([near!, other!, near!], [drawing, null, drawing]))).toContain("The 2 worst are drawn");
    expect(text(page([other!], []))).toContain("None of them is drawn.");
  });

  it("say where only the beginning of a long one is shown", () => {
    const long = { ...near!, to: Date.parse("2026-10-05T09:12:00.000Z") };
    expect(text(page([long], [drawing]))).toContain("Only its beginning is shown.");
    expect(text(page([near!], [drawing]))).not.toContain("Only its beginning");
  });

  it("list all that are drawn even where the list is cut, and say so", () => {
    const many = Array.from({ length: MOST_NEAR + 40 }, () => other!);
    const html = page([...many, near!], [...many.map(() => null), drawing]);
    expect(html).toContain(`<summary>${MOST_NEAR} of ${MOST_NEAR + 41} near misses</summary>`);
    expect(rowsOf(html)).toHaveLength(MOST_NEAR + 1);
    expect(html).toContain("<svg>wide</svg>");
    expect(html).toContain("41 more are not shown here, to keep this page small; findings.json has them all.");
    expect(html).toContain(`data-from="rules.0.margin.nearMisses.${MOST_NEAR + 40}"`);
  });

  it("fold many, and say that there was none", () => {
    expect(page(Array.from({ length: 9 }, () => near!), [])).toContain("<summary>5 of 9 near misses</summary>");
    expect(text(page([], []))).toContain("At no time did one signal alone stand between");
  });
});
