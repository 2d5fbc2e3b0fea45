import { describe, expect, it } from "vitest";
import { capitalised } from "../../../src/ground/first-letter.js";
import { countText, figureText, percentText, seenText } from "../../../src/judge/rule/words.js";

describe("figures in a sentence", () => {
  it("have three significant digits, whole numbers in full", () => {
    expect([0, 0.5, 35.294, 0.054709, 12345, 1234.56].map((value) => figureText(value))).toEqual(["0", "0.5", "35.3", "0.0547", "12345", "1235"]);
  });

  it("never claim too much: bounds from above go up, bounds from below down", () => {
    expect(figureText(0.50001, "up")).toBe("0.51");
    expect(figureText(0.50099, "down")).toBe("0.5");
    expect(figureText(0.5, "up")).toBe("0.5");
    expect(percentText(0.29, "up")).toBe("29 %");
    expect(percentText(0.1005, "down")).toBe("10 %");
  });

  it("are any number where nothing bounds them", () => {
    expect(figureText(Infinity, "up")).toBe("any number");
  });

  it("count things", () => {
    expect([0, 1, 2].map((count) => countText(count, "wrong unlock", "wrong unlocks"))).toEqual(["no wrong unlock", "1 wrong unlock", "2 wrong unlocks"]);
    expect([1 / 365.25, 31 / 365.25, 4].map(seenText)).toEqual(["1 day", "31 days", "4 years"]);
    expect(capitalised("no wrong unlock")).toBe("No wrong unlock");
  });
});
