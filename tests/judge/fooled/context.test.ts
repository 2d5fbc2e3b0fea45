import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { within } from "../../../src/judge/replay/outcomes.js";
import { wrongTime } from "../../../src/judge/fooled/context.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { ON, type Timeline, type TruthState } from "../../../src/timeline/timeline.js";
import { line, min } from "../small-site.js";

const span = { from: 0, to: min(100) };
const on = (x: Timeline): string => Array.from(x.times, (at, i) => `${at / min(1)} ${x.states[i] === ON ? "on" : "off"}`).join(", ");

describe("when acting would have been wrong", () => {
  it("ends as long before the facts come true as a firing may be early", () => {
    expect(on(wrongTime(line("0 off, 50 on, 80 off", span), line("", span), min(2)).verified)).toBe("0 on, 48 off, 80 on, 98 off");
  });

  it("is looked up with everybody where nobody outside can tell", () => {
    const { verified, looked } = wrongTime(line("0 ?, 40 off, 60 ?", span), line("0 off, 20 on, 30 off", span), 0);
    expect(on(verified)).toBe("0 off, 40 on, 60 off");
    expect(on(looked)).toBe("0 on, 20 off, 30 on");
  });

  it("does not take the rule's own signals' word against a witness outside", () => {
    expect(on(wrongTime(line("0 on", span), line("0 off", span), 0).looked)).toBe("0 off");
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
          expect(stateAt(verified, at) === ON).toBe(told.offThroughout);
          expect(stateAt(looked, at) === ON).toBe(told.offThroughout || (told.firstOn === null && seen.offThroughout));
        }
      }),
      { numRuns: 500 },
    );
  });
});
