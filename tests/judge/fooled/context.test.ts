import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { within } from "../../../src/judge/replay/firing-outcomes.js";
import { wrongTime } from "../../../src/judge/fooled/context.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { holding, type Interval } from "../../../src/ground/intervals.js";
import type { Timeline, TruthState } from "../../../src/timeline/timeline.js";
import { line, min } from "../small-site.js";

const span = { from: 0, to: min(100) };
const minutes = (intervals: readonly Interval[]): string => intervals.map(({ from, to }) => `${from / min(1)}-${to / min(1)}`).join(", ");

describe("when acting would have been wrong", () => {
  it("ends as long before the facts come true as a firing may be early", () => {
    expect(minutes(wrongTime(line("0 off, 50 on, 80 off", span), line("", span), min(2)).verified)).toBe("0-48, 80-98");
  });

  it("is looked up with everybody where nobody outside can tell", () => {
    const { verified, looked } = wrongTime(line("0 ?, 40 off, 60 ?", span), line("0 off, 20 on, 30 off", span), 0);
    expect(minutes(verified)).toBe("40-60");
    expect(minutes(looked)).toBe("0-20, 30-100");
  });

  it("does not take the rule's own signals' word against a witness outside", () => {
    expect(wrongTime(line("0 on", span), line("0 off", span), 0).looked).toEqual([]);
  });
});

describe("against judging a firing at every instant", () => {
  const letters = fc.array(fc.constantFrom<TruthState>(0, 1, 2), { minLength: 12, maxLength: 12 });
  const history = (states: readonly TruthState[]): Timeline => timelineOf(0, 12, states.map((state, i) => [i, state] as const));

  it("agrees", () => {
    fc.assert(
      fc.property(letters, letters, fc.constantFrom(0, 1, 2.5, 4), (outsideStates, fullStates, earlyMs) => {
        const [outside, full] = [history(outsideStates), history(fullStates)];
        const { verified, looked } = wrongTime(outside, full, earlyMs);
        for (let at = 0; at < 12; at += 0.25) {
          const [told, seen] = [within(outside, at, at + earlyMs), within(full, at, at + earlyMs)];
          expect(holding(verified, at) !== null).toBe(told.offThroughout);
          expect(holding(looked, at) !== null).toBe(told.offThroughout || (told.firstOn === null && seen.offThroughout));
        }
      }),
      { numRuns: 500 },
    );
  });
});
