import { describe, expect, it } from "vitest";
import { draw } from "../../../src/report/charts/draw.js";
import { tuningFrontier } from "../../../src/report/charts/tuning-frontier.js";
import { exampleTuning } from "../example-trials.js";

const tuning = exampleTuning!;
const limits = { wrong: 0.5, missed: 0.1 };

describe("the frontier of settings", () => {
  it("names the present setting and the suggested one with their delay, and the limits", async () => {
    const svg = await draw(tuningFrontier(tuning, limits, "wide")!, "a");
    expect(svg).toContain(">as it is, 51 s late<");
    expect(svg).toContain(">suggested, 51 s late<");
    expect(svg.match(/>limit</g)).toHaveLength(2);
  });

  it("joins what a setting did on the first part to what it did on the rest", () => {
    const { layer } = tuningFrontier(tuning, limits, "wide") as unknown as { layer: { mark: { type: string }; data: { values: { x: number; y: number; x2?: number; y2?: number }[] } }[] };
    const joined = layer.filter(({ mark }) => mark.type === "rule").flatMap(({ data }) => data.values.filter(({ x2 }) => x2 !== undefined));
    const of = (point: typeof tuning.present) => ({ x: point.train.missedShare.value, y: point.train.wrongPerYear.value, x2: point.heldOut.missedShare.value, y2: point.heldOut.wrongPerYear.value });
    expect(joined).toEqual([of(tuning.present), of(tuning.suggestion!)]);
  });

  it("is none where there is nothing to compare", () => {
    expect(tuningFrontier({ ...tuning, frontier: [tuning.present], suggestion: null }, limits, "wide")).toBeNull();
    const untold = { ...tuning.present, heldOut: { ...tuning.present.heldOut, missedShare: { ...tuning.present.heldOut.missedShare, value: null } } };
    expect(tuningFrontier({ ...tuning, present: untold }, limits, "wide")).toBeNull();
  });

  it("writes no label over another: of settings that did the same one is named", async () => {
    const twins = ["a", "b", "c"].map((change) => ({ ...tuning.present, change }));
    const svg = await draw(tuningFrontier({ ...tuning, frontier: [...twins, ...tuning.frontier] }, limits, "wide")!, "a");
    expect(svg.match(/ s late</g)).toHaveLength(2);
  });
});
