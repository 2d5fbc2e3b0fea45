import { describe, expect, it } from "vitest";
import { renderReport } from "../../../src/report/render.js";
import { clockNotes } from "../../../src/report/parts/clock-note.js";
import type { Findings } from "../../../src/result/findings.js";
import { exampleFindings } from "../example-findings.js";

const [compared] = exampleFindings.clocks;
const none = { ...compared!.offset, value: null, low: null, high: null, why: "nothing to compare" };
const apart: Findings["clocks"] = [{ ...compared!, subjects: [], offset: none }];
const NOTHING_SHARED = "No two sources watch the same subject, so their clocks cannot be compared.";

describe("the note on clocks that cannot be compared", () => {
  it("says why: one source, no subject in common, or no change seen by two", () => {
    const { signals } = exampleFindings;
    expect(clockNotes({ signals, clocks: [] })).toEqual(["All signals come from one source, so no other clock can be compared with its clock."]);
    expect(clockNotes({ signals, clocks: apart })).toEqual([NOTHING_SHARED]);
    expect(clockNotes({ signals, clocks: [{ ...apart[0]!, subjects: ["bay"] }] })).toEqual(["No two sources saw the same change, so their clocks cannot be compared."]);
  });

  it("is not there where two clocks were compared, or where there is no signal", () => {
    expect(clockNotes({ signals: exampleFindings.signals, clocks: [...apart, compared!] })).toEqual([]);
    expect(clockNotes({ signals: [], clocks: [] })).toEqual([]);
  });

  it("stands among the notes on the data in place of the section on clocks", async () => {
    const page = await renderReport({ ...exampleFindings, notes: [], clocks: apart, rules: [] });
    expect(page).toContain(`<li>${NOTHING_SHARED}</li>`);
    expect(page).not.toContain("upkeep-clocks");
    expect(await renderReport({ ...exampleFindings, rules: [] })).not.toContain(NOTHING_SHARED);
  });
});
