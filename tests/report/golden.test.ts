import { beforeAll, describe, expect, it } from "vitest";
import { drawAll, type Drawings } from "../../src/report/drawings.js";
import { localClock } from "../../src/report/local-time.js";
import { exampleFindings, exampleFleet } from "./example-findings.js";

/*
 * Drawings as they are, a tag a line, so that a change shows as a diff of shapes. Numbers are rounded to a hundredth of a
 * pixel and ids are the page's own already (see charts/draw.ts). To accept a change: `npx vitest run tests/report/golden.test.ts -u`,
 * and look at what changed before committing it.
 */
const lines = (svg: string): string => `${svg.replace(/></g, ">\n<")}\n`;

describe("drawings", () => {
  let drawings: Drawings;
  let fleet: Drawings;
  beforeAll(async () => {
    drawings = await drawAll(exampleFindings, localClock("Europe/London"));
    fleet = await drawAll(exampleFleet, localClock("Europe/London"));
  });

  it.each([
    ["timing-wrong", () => drawings.firings[0]?.find(({ firing }) => firing.outcome === "wrong")?.drawing],
    ["timing-unverified", () => drawings.firings[1]?.find(({ firing }) => firing.outcome === "unverified")?.drawing],
    ["timing-near", () => drawings.nearMisses[0]?.find((one) => one !== null)],
    ["agreement", () => drawings.agreement],
    ["lags", () => drawings.lags],
    ["bays", () => fleet.bays],
    ["drills", () => drawings.drills.find((one) => one !== null)],
    ["tuning", () => drawings.tuning.find((one) => one !== null)],
    ["band", () => drawings.bands.find((one) => one !== null)],
    ["margin", () => drawings.margins.find((one) => one !== null)],
    ["claims", () => drawings.claims[1]],
    ["change", () => drawings.changes.find((one) => one !== null)],
  ])("%s are as they were", async (name, drawing) => {
    const { wide, narrow } = drawing() ?? { wide: "no drawing", narrow: "no drawing" };
    expect(wide).not.toBe("no drawing");
    await expect(lines(wide)).toMatchFileSnapshot(`golden/${name}.wide.svg`);
    await expect(lines(narrow)).toMatchFileSnapshot(`golden/${name}.narrow.svg`);
  });
});
