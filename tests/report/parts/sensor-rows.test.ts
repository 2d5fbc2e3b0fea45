import { h } from "preact";
import { render } from "preact-render-to-string";
import { beforeAll, describe, expect, it } from "vitest";
import type { Findings } from "../../../src/result/findings.js";
import { redactFindings } from "../../../src/result/redact.js";
import { makeChartShapes } from "../../../src/report/charts/chart-shapes.js";
import { dayClock, localClock } from "../../../src/report/local-time.js";
import { Clock } from "../../../src/report/parts/local-time.js";
import { sensorAnchor, SensorRows, sensorTally } from "../../../src/report/parts/sensor-rows.js";
import { drawSensors, type SensorDrawing } from "../../../src/report/sensor-drawings.js";
import { sensorStyle } from "../../../src/report/style-sensors.js";
import { exampleFindings } from "../example-findings.js";

const london = localClock("Europe/London");
const page = (findings: Findings, drawings: readonly (SensorDrawing | null)[] = [], clock = london): string =>
  render(h(Clock.Provider, { value: clock }, h(SensorRows, { findings, drawings })));
const text = (html: string): string => html.replace(/<svg[\s\S]*?<\/svg>/g, "").replace(/<[^>]*>/g, "").replace(/\u00a0/g, " ");
const rowsOf = (html: string): string[] => html.split("<details").slice(1);

describe("the rows of the sensors", () => {
  let drawings: readonly (SensorDrawing | null)[];
  let rows: readonly string[];
  beforeAll(async () => {
    drawings = await drawSensors(exampleFindings, london, makeChartShapes());
    rows = rowsOf(page(exampleFindings, drawings));
  });

  it("say state, name, why and the days of the gravest fault, and can be linked to", () => {
    expect(rows).toHaveLength(3);
    expect(text(rows[0]!)).toContain("mendbay-1-wallblind for 17 h, 16 to 17 Oct; two false vehicles");
    expect(text(rows[1]!)).toContain("lookphone-miradropped out four times, 3 to 25 Oct; leaves 6 min late");
    expect(text(rows[2]!)).toContain("fineyard-door-railsaw all 84 changes, 2 s late");
    expect(sensorAnchor(exampleFindings, "phone-mira")).toBe("sensor-2");
    expect(rows[1]).toContain('id="sensor-2"');
    expect(sensorTally(exampleFindings)).toBe("1 to mend, 1 to look at, 1 fine");
  });

  it("have a strip with a box a day, by the hours of the site's own clock", () => {
    // Blind from 17:15 on the 16th (the day counted 15) to 10:15 on the next; before that for six minutes on the 5th.
    expect(rows[0]).toContain('class="differed" d="M4.08 4h0.84v2h-0.84zM15.08 17.25h0.84v6.75h-0.84zM16.08 0h0.84v10.25h-0.84z"');
    expect(rows[0]).toContain('viewBox="0 0 31 24"');
    expect(rows[0]).toContain('>differed twice, 17 h 6 min in all; silent once</span>');
    expect(rows[1]).toMatch(/fill="url\(#unchecked-hatch\)" x="67\.7%" width="32\.3%"/);
  });

  it("show the readings of the sensor and of its twin around the worst stretch, in the units of the site file", () => {
    const [wall] = drawings;
    for (const drawing of [wall!.own!.wide, wall!.own!.narrow]) {
      expect(drawing).toContain("118 in");
      expect(drawing).toContain("url(#expected-hatch)");
    }
    expect(wall!.own!.wide).toContain(">says “nothing there” for 17 h<");
    expect(wall!.own!.narrow).toContain(">nothing, for 17 h<");
    expect(wall!.own!.wide).toContain(">vehicle, 12–34 in<");
    expect(wall!.twin!.wide).toContain(">8.1 ft<");
    expect(wall!.twin!.wide).not.toContain("expected-hatch");
    expect(rows[0]).toContain('role="img" aria-labelledby="sensor-1-worst"><p class="said" id="sensor-1-worst">16 to 17 Oct, 17:15 to 10:15: bay-1-wall says “nothing there” for 17 h, wrongly; beside it bay-1-overhead.</p>');
    expect(rows[0]).toContain("<code>present: [18, 26]</code>");
  });

  it("show bars where there are no readings, with what most likely happened above", () => {
    expect(drawings[1]).toBeNull();
    expect(rows[1]).toContain(">what most likely happened<");
    expect(rows[1]).toMatch(/class="expected" fill="url\(#expected-hatch\)" x="26.32%" width="48.42%"/);
    expect(rows[1]).toContain(">says “away” for 92 min<");
  });

  it("carry no style of their own, and only summaries are tab stops", () => {
    const html = page(exampleFindings, drawings);
    expect(html).not.toMatch(/ style=|<a |tabindex|<button/);
    expect(html.split("<summary").length - 1).toBe(3);
    expect(sensorStyle).not.toMatch(/#[0-9a-f]{3,6}\b/);
  });

  it("leave out the fine ones beyond forty, and say how many", () => {
    const [wall, , rail] = exampleFindings.sensors!;
    const many = { ...exampleFindings, sensors: [wall!, ...Array.from({ length: 60 }, () => rail!)] };
    const html = page(many);
    expect(rowsOf(html)).toHaveLength(1);
    expect(text(html)).toContain("60 more sensors are fine and not listed");
    expect(sensorAnchor(many, "yard-door-rail")).toBeNull();
  });

  it("are nothing in a result of an earlier version", () => {
    expect(page({ ...exampleFindings, sensors: [] })).toBe("");
  });

  it("tell no name and no date once redacted", async () => {
    const redacted = redactFindings(exampleFindings);
    const html = page(redacted, await drawSensors(redacted, dayClock, makeChartShapes()), dayClock);
    expect(text(html)).toContain("blind for 17 h, day 16 to day 17");
    expect(html).not.toMatch(/oct|2026|mira|wall|overhead/i);
  });
});
