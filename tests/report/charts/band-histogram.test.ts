import { describe, expect, it } from "vitest";
import { bandHistogram } from "../../../src/report/charts/band-histogram.js";
import { draw } from "../../../src/report/charts/draw.js";
import { exampleWitnesses } from "../example-witnesses.js";

const [overhead, unread] = exampleWitnesses.bands;

describe("a histogram of distances", () => {
  it("names both places that tell, where it rests too, and both bands", async () => {
    const svg = await draw(bandHistogram(overhead!, "wide")!, "a");
    for (const words of ["occupied", "empty", "rests here too", "present band", "suggested band"]) expect(svg).toContain(`>${words}<`);
  });

  it("leaves out what is not so", async () => {
    const svg = await draw(bandHistogram({ ...overhead!, presentHolds: true, otherModes: [], empty: null }, "narrow")!, "a");
    expect(svg).toContain(">occupied<");
    expect(svg).not.toMatch(/>(?:empty|rests here too|suggested band)</);
  });

  it("is none where nothing was read", () => {
    expect(bandHistogram(unread!, "wide")).toBeNull();
    expect(bandHistogram({ ...overhead!, histogram: { from: 1, width: 0.1, counts: [0, 0] } }, "wide")).toBeNull();
  });
});
