import { h } from "preact";
import { render } from "preact-render-to-string";
import { describe, expect, it } from "vitest";
import type { Findings } from "../../../src/result/findings.js";
import { makeChartShapes } from "../../../src/report/charts/chart-shapes.js";
import { usualText } from "../../../src/report/charts/typical-day-chart.js";
import { localClock } from "../../../src/report/local-time.js";
import { TypicalDay } from "../../../src/report/parts/typical-day.js";
import { drawTypicalDay, hasTypicalDay } from "../../../src/report/sensor-drawings.js";
import { emptyFindings } from "../empty-findings.js";
import { exampleFindings } from "../example-findings.js";

const drawn = (findings: Findings) => drawTypicalDay(findings, localClock("Europe/London"), makeChartShapes());

describe("the picture of a typical day", () => {
  it("has a lane a subject with its usual times, and names what differed longest", async () => {
    const drawing = (await drawn(exampleFindings))!;
    for (const svg of [drawing.wide, drawing.narrow]) {
      expect(svg).toContain(">mira<");
      expect(svg).toContain(">estate in bay-1<");
      expect(svg).toContain(">out 08:06, home 17:34<");
    }
    expect(drawing.wide).toContain(">bay-1-wall: blind for 17 h; two false vehicles<");
    expect(drawing.narrow).toContain(">bay-1-wall: blind for 17 h<");
    expect(drawing.narrow).not.toContain("two false vehicles");
  });

  it("says in words what it shows, and how many are left out", async () => {
    const html = render(h(TypicalDay, { findings: exampleFindings, drawing: await drawn(exampleFindings) }));
    expect(html).toContain('>A typical weekday by hour. mira out 08:06, home 17:34.</p>');
    expect(html).toContain("1 person or vehicle is left out.");
    expect(html).not.toContain(" style=");
  });

  it("is left out where there is nothing to show", async () => {
    expect(hasTypicalDay(exampleFindings)).toBe(true);
    expect(hasTypicalDay(emptyFindings)).toBe(false);
    expect(await drawn(emptyFindings)).toBeNull();
    expect(render(h(TypicalDay, { findings: emptyFindings, drawing: null }))).toBe("");
  });

  it("says usual times in the words of who comes and goes", () => {
    const [mira] = exampleFindings.typicalDay!.subjects;
    expect(usualText({ ...mira!, class: "bay" })).toEqual(["leaves 08:06, back 17:34"]);
    expect(usualText({ ...mira!, usual: { way: "visits", first: 330, second: 1116, days: 20 } })).toEqual(["in 05:30, out 18:36"]);
    expect(usualText({ ...mira!, usual: null })).toEqual([]);
  });
});
