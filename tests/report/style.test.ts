import { describe, expect, it } from "vitest";
import { style } from "../../src/report/style.js";

/** Relative luminance and contrast as WCAG 2.2 defines them. */
const luminance = (hex: string): number => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => {
    const part = parseInt(hex.slice(at, at + 2), 16) / 255;
    return part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
};
const contrast = (one: string, other: string): number => {
  const [darker = 0, lighter = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (lighter + 0.05) / (darker + 0.05);
};
const palettes = [...style.matchAll(/:root\{[^}]*?((?:--[a-z0-9]+:#[0-9a-f]{3,6};?)+)\}/g)].map(
  (match) => new Map([...(match[1] ?? "").matchAll(/--([a-z0-9]+):(#[0-9a-f]{6})(?![0-9a-f])/g)].map(([, name = "", colour = ""]) => [name, colour])),
);

describe("colours", () => {
  it("are given for light, dark and paper", () => {
    expect(palettes).toHaveLength(3);
  });

  it.each(["ink", "ink2", "brick", "blue"])("%s stands out from the page by 4.5 to 1 in light and dark", (name) => {
    for (const palette of palettes.slice(0, 2)) {
      expect(contrast(palette.get(name)!, palette.get("paper")!)).toBeGreaterThanOrEqual(4.5);
      expect(contrast(palette.get(name)!, palette.get("wash")!)).toBeGreaterThanOrEqual(3);
    }
  });

  it("are named by their use everywhere but where they are defined", () => {
    expect(style.replace(/:root\{[^}]*\}/g, "")).not.toMatch(/#[0-9a-f]{3,8}\b(?![^{]*\{)/i);
  });
});
