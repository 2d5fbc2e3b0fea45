import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { figuresTowards } from "../../src/result/redact-numbers.js";
import { redactFindings } from "../../src/result/redact.js";
import { exampleFindings } from "../report/example-findings.js";

describe("a bound in a result for sharing", () => {
  it("is rounded so that it claims no more than it did", () => {
    expect(figuresTowards(152.4, 2, "up")).toBe(160);
    expect(figuresTowards(59.6, 2, "down")).toBe(59);
    expect(figuresTowards(99.6, 2, "up")).toBe(100);
    expect(figuresTowards(150, 2, "up")).toBe(150);
    expect(figuresTowards(152.4, 2, null)).toBe(150);
  });

  it("never crosses what it bounds, and stays within a tenth", () => {
    fc.assert(fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), fc.constantFrom("up" as const, "down" as const), (value, side) => {
      const rounded = figuresTowards(value, 2, side);
      if (side === "up") expect(rounded).toBeGreaterThanOrEqual(value);
      else expect(rounded).toBeLessThanOrEqual(value);
      expect(Math.abs(rounded - value)).toBeLessThanOrEqual(value * 0.11);
    }));
  });

  it("holds for every road of a redacted result", () => {
    const roads = exampleFindings.decision.rules.flatMap((rule) => rule.roads);
    const redacted = redactFindings(exampleFindings).decision.rules.flatMap((rule) => rule.roads);
    expect(roads.filter(({ perYear }) => perYear !== null).length).toBeGreaterThan(2);
    for (const [i, { side, perYear }] of roads.entries()) {
      if (perYear === null) continue;
      if (side === "at most") expect(redacted[i]!.perYear).toBeGreaterThanOrEqual(perYear);
      else expect(redacted[i]!.perYear).toBeLessThanOrEqual(perYear);
    }
  });
});
