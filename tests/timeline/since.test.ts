import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { held } from "../../src/timeline/held.js";
import { since } from "../../src/timeline/since.js";
import { timelineOf } from "../../src/timeline/make.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState } from "../../src/timeline/timeline.js";
import { turned } from "../../src/timeline/turned.js";
import { anyBarriers, anyTimeline, END, expectCanonical, GRID, gridInstants, RUNS, START } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";

const plain = { bridgeMs: 0, barriers: [] };

describe("ever since", () => {
  const door = timelineOf(0, 100, [[0, OFF], [20, ON], [25, OFF], [60, ON], [63, OFF]]);

  test("is so from a change on, for as long as the state lasts", () => {
    const still = timelineOf(0, 100, [[0, ON], [40, OFF], [42, ON]]);
    expect(since(still, door, OFF, 0, plain)).toEqual(timelineOf(0, 100, [[0, UNKNOWN], [25, ON], [40, OFF], [63, ON]]));
  });

  test("what happens within the grace after the change does not count", () => {
    const still = timelineOf(0, 100, [[0, ON], [22, OFF], [30, ON], [62, OFF], [80, ON]]);
    // The hall goes quiet 5 after the first closing; after the second it stirs for 17, longer than the grace.
    expect(since(still, door, OFF, 10, plain)).toEqual(timelineOf(0, 100, [[0, UNKNOWN], [22, OFF], [35, ON], [62, OFF]]));
  });

  test("is not known while a change may have gone unseen, and never on because of one", () => {
    const blind = timelineOf(0, 100, [[0, OFF], [50, UNKNOWN], [55, OFF]]);
    const still = timelineOf(0, 100, [[0, OFF], [10, ON], [70, OFF], [80, ON]]);
    expect(since(still, blind, OFF, 0, plain)).toEqual(timelineOf(0, 100, [[0, OFF], [50, UNKNOWN], [70, OFF]]));
  });

  test("a sensor that is dark is not taken for still", () => {
    const still = timelineOf(0, 100, [[0, ON], [30, UNKNOWN], [40, ON]]);
    expect(since(still, door, OFF, 0, plain)).toEqual(timelineOf(0, 100, [[0, UNKNOWN], [25, ON], [30, UNKNOWN], [63, ON]]));
  });

  test("refuses a negative grace, and timelines of different times", () => {
    expect(() => since(constantTimeline(0, 1, ON), constantTimeline(0, 1, ON), ON, -1, plain)).toThrow(RangeError);
    expect(() => since(constantTimeline(0, 1, ON), constantTimeline(0, 2, ON), ON, 0, plain)).toThrow(RangeError);
  });

  test("agrees at every instant with the definition, looked up on a fine grid", () => {
    fc.assert(
      fc.property(anyTimeline, anyTimeline, fc.constantFrom(OFF, ON), fc.integer({ min: 0, max: 12 }), fc.integer({ min: 0, max: 15 }), anyBarriers, (x, y, to, grace, bridgeMs, barriers) => {
        const options = { bridgeMs, barriers };
        const result = since(x, y, to, grace, options);
        expectCanonical(result);
        for (const t of gridInstants(START, END)) expect(stateAt(result, t)).toBe(byDefinition(x, y, to, grace, turned(y, to, options).map(({ at }) => at), t));
      }),
      RUNS,
    );
  });

  test("of a state that lasts it says no more than that the state held since the last change", () => {
    fc.assert(
      fc.property(anyTimeline, anyTimeline, fc.integer({ min: 1, max: 12 }), (x, y, grace) => {
        const result = since(x, y, ON, grace, plain);
        for (const t of gridInstants(START, END)) {
          if (stateAt(result, t) !== ON) continue;
          expect(stateAt(x, t)).toBe(ON);
          const last = turned(y, ON, plain).filter(({ at }) => at + grace <= t).at(-1)!;
          expect(stateAt(held(x, t - last.at - grace), t)).toBe(ON);
        }
      }),
      RUNS,
    );
  });
});

/** Kleene's "or" over the instants of the change of Kleene's "and" over the time since; linear search, no cleverness. */
function byDefinition(x: Timeline, y: Timeline, to: TruthState, grace: number, turns: readonly number[], t: number): TruthState {
  let best: TruthState = OFF;
  // Long before the start everything is unknown.
  let window: TruthState = stateAt(x, t);
  for (let from = t; from >= START - 60; from -= GRID) {
    window = worse(window, stateAt(x, from));
    const u = from - grace;
    const unseen = u <= START || stateAt(y, u) === UNKNOWN || (stateAt(y, u - GRID) === UNKNOWN && stateAt(y, u) !== UNKNOWN);
    const change: TruthState = turns.includes(u) && stateAt(y, u) === to ? ON : unseen ? UNKNOWN : OFF;
    best = better(best, worse(change, window));
  }
  return best;
}

const rank = { [OFF]: 0, [UNKNOWN]: 1, [ON]: 2 };

function worse(a: TruthState, b: TruthState): TruthState {
  return rank[a] <= rank[b] ? a : b;
}

function better(a: TruthState, b: TruthState): TruthState {
  return rank[a] >= rank[b] ? a : b;
}
