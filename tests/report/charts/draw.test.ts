import { describe, expect, it } from "vitest";
import { draw } from "../../../src/report/charts/draw.js";
import { rules, texts } from "../../../src/report/charts/layers.js";
import { hostileNames } from "../hostile-findings.js";

const specification = (label: string) => ({
  autosize: "none" as const,
  width: 200,
  height: 40,
  layer: [texts([{ x: 5, y: 5, label }], { align: "left" as const }), { ...rules([{ x: 0, x2: 9, y: 0, y2: 9 }], {}), mark: { type: "rule" as const, clip: true } }],
});

describe("a drawing", () => {
  it.each(Object.entries(hostileNames))("keeps %s as text", async (_, name) => {
    const svg = await draw(specification(name), "a");
    const tame = await draw(specification("y"), "a");
    expect(svg.replace(/>[^<]+</g, "><")).toBe(tame.replace(/>[^<]+</g, "><"));
  });

  it("is the same whatever was drawn before it, and has ids of its own", async () => {
    const first = await draw(specification("y"), "a");
    expect(await draw(specification("y"), "a")).toBe(first);
    expect(first).toMatch(/clip-path="url\(#a-0\)"/);
    expect(first).toMatch(/<clipPath id="a-0"/);
    expect(await draw(specification("y"), "b")).toBe(first.replaceAll("a-0", "b-0"));
  });

  it("carries no style attribute, no class, no namespace", async () => {
    expect(await draw(specification("y"), "a")).not.toMatch(/ (?:style|class|xmlns[:a-z]*|role)=/);
  });
});
