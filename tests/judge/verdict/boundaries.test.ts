import { describe, expect, it } from "vitest";
import type { ActLimits } from "../../../src/site/site.js";
import { judged, type Past } from "./past.js";

describe("time that is not known", () => {
  const proven: Past = { days: 3200, right: 60, served: 60 };
  const effect = (past: Past, code: string): string | undefined => judged(past).reasons.find((reason) => reason.code === code)?.effect;

  it("may be as much as is allowed, and is told from one part in a hundred on", () => {
    expect(judged({ ...proven, blindDays: 320 }).verdict).toBe("clear to enable");
    expect([320, 321, 32, 31].map((blindDays) => effect({ ...proven, blindDays }, "blind-time"))).toEqual(["clears", "open", "clears", undefined]);
    expect([0.1, 0.1001, 0.01, 0.0099].map((unclearShare) => effect({ ...proven, unclearShare }, "unclear-time"))).toEqual(["clears", "open", "clears", undefined]);
  });

  it("is told in words that say whether it is too much", () => {
    const text = (past: Past, code: string): string => judged({ ...proven, ...past }).reasons.find((reason) => reason.code === code)?.text ?? "";
    expect(text({ blindDays: 320 }, "blind-time")).toBe("For 10 % of the time a sensor was missing, so the rule could have acted unseen; that time is not counted as seen.");
    expect(text({ blindDays: 640 }, "blind-time")).toBe("For 20 % of the time a sensor was missing, so the rule could have acted unseen; that is too much to judge by.");
    expect(text({ unclearShare: 0.05 }, "unclear-time")).toBe("For 5 % of the time nobody can tell whether an unlock was wanted: neither the diary nor two independent sensors that the rule does not use.");
    expect(text({ unclearShare: 0.2 }, "unclear-time")).toBe(
      "For 20 % of the time nobody can tell whether an unlock was wanted: neither the diary nor two independent sensors that the rule does not use. More than 10 % is too much to judge by; a longer diary helps.",
    );
  });
});

describe("a lower bound at its limit", () => {
  it("forbids nothing", () => {
    const past: Past = { days: 31, right: 10, served: 5, missed: 5 };
    const { bounds } = judged(past);
    const broken = (limits: Partial<ActLimits>): boolean => judged({ ...past, limits }).reasons.some((reason) => reason.code === "missed-lower-bound");
    expect(bounds.missedLower).toBeGreaterThan(0);
    expect(broken({ missedShare: bounds.missedLower })).toBe(false);
    expect(broken({ missedShare: bounds.missedLower * (1 - 1e-9) })).toBe(true);
  });
});
