import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { all } from "../../src/timeline/all.js";
import { timelineOf } from "../../src/timeline/make.js";
import { not } from "../../src/timeline/not.js";
import { rises } from "../../src/timeline/rises.js";
import { stateAt } from "../../src/timeline/state-at.js";
import { OFF, ON, UNKNOWN, type Timeline, type TruthState, type Turn } from "../../src/timeline/timeline.js";
import { turned, turnedWithin } from "../../src/timeline/turned.js";
import { anyBarriers, anyTimeline, END, expectCanonical, GRID, gridInstants, RUNS, START, windowStates } from "./brute-force.js";
import { constantTimeline } from "./constant-timeline.js";
import type { Interval } from "../../src/ground/intervals.js";

const plain = { bridgeMs: 0, barriers: [] };

describe("turned", () => {
  test("a known change is a turn, at its instant", () => {
    const bay = timelineOf(0, 30, [[0, OFF], [10, ON], [20, OFF]]);
    expect(turned(bay, ON, plain)).toEqual([{ at: 10, earliest: 10 }]);
    expect(turned(bay, OFF, plain)).toEqual([{ at: 20, earliest: 20 }]);
  });

  test("unknown to on is no turn: a sensor that comes back did not see anyone arrive", () => {
    expect(turned(timelineOf(0, 30, [[0, UNKNOWN], [10, ON]]), ON, { bridgeMs: 100, barriers: [] })).toEqual([]);
    expect(turned(timelineOf(0, 30, [[0, ON], [10, UNKNOWN], [12, ON]]), ON, { bridgeMs: 100, barriers: [] })).toEqual([]);
  });

  test("the state at the start is no turn", () => {
    expect(turned(constantTimeline(0, 30, ON), ON, plain)).toEqual([]);
  });

  describe("off → unknown → on", () => {
    const bay = timelineOf(0, 30, [[0, OFF], [10, UNKNOWN], [14, ON]]);

    test("is an uncertain turn when the gap is at most the bridge", () => {
      expect(turned(bay, ON, { bridgeMs: 4, barriers: [] })).toEqual([{ at: 14, earliest: 10 }]);
    });

    test("is no turn when the gap is longer than the bridge, or no bridge is allowed", () => {
      expect(turned(bay, ON, { bridgeMs: 3, barriers: [] })).toEqual([]);
      expect(turned(bay, ON, plain)).toEqual([]);
    });

    test.each([
      ["covers the gap", 5, 20, false],
      ["lies inside the gap", 11, 12, false],
      ["reaches into the gap from before", 5, 11, false],
      ["begins inside the gap", 13, 20, false],
      ["is over when the gap begins", 5, 10, true],
      ["begins when the gap is over", 14, 20, true],
      ["is an instant inside the gap", 12, 12, false],
      ["is the instant at which the gap begins", 10, 10, false],
      ["is the instant at which the gap ends", 14, 14, false],
      ["is an instant before the gap", 9, 9, true],
    ])("with a barrier that %s", (_, from, to, isTurn) => {
      expect(turned(bay, ON, { bridgeMs: 10, barriers: [{ from, to }] }).length).toBe(isTurn ? 1 : 0);
    });
  });

  test.each([
    ["ends there, where the gap begins", 14, 16, [{ from: 1, to: 14 }, { from: 14, to: 14 }]],
    ["begins there, where the gap ends", 10, 14, [{ from: 14, to: 20 }, { from: 14, to: 14 }]],
  ])("an instant as a barrier counts even beside a stretch that %s", (_, gapFrom, gapTo, barriers) => {
    const bay = timelineOf(0, 30, [[0, OFF], [gapFrom, UNKNOWN], [gapTo, ON]]);
    expect(turned(bay, ON, { bridgeMs: 10, barriers: barriers.slice(0, 1) }).length).toBe(1);
    expect(turned(bay, ON, { bridgeMs: 10, barriers })).toEqual([]);
  });

  test("a barrier does not undo a change that was seen", () => {
    const bay = timelineOf(0, 30, [[0, OFF], [10, ON]]);
    expect(turned(bay, ON, { bridgeMs: 5, barriers: [{ from: 5, to: 15 }] })).toEqual([{ at: 10, earliest: 10 }]);
  });

  test("refuses a negative bridge and a barrier that runs backwards", () => {
    expect(() => turned(constantTimeline(0, 1, ON), ON, { bridgeMs: -1, barriers: [] })).toThrow(RangeError);
    expect(() => turned(constantTimeline(0, 1, ON), ON, { bridgeMs: 1, barriers: [{ from: 3, to: 2 }] })).toThrow(new RangeError("A barrier must not end before it begins: [3, 2)."));
  });

  test("finds what a walk over the grid finds", () => {
    fc.assert(
      fc.property(anyTimeline, fc.constantFrom(OFF, ON), fc.integer({ min: 0, max: 15 }), anyBarriers, (x, to, bridgeMs, barriers) => {
        expect(turned(x, to, { bridgeMs, barriers })).toEqual(byWalking(x, to, bridgeMs, barriers));
      }),
      { numRuns: 1000 },
    );
  });

  test("turns off are the turns on of the denial, and every turn on is a rise", () => {
    fc.assert(
      fc.property(anyTimeline, fc.integer({ min: 0, max: 15 }), anyBarriers, (x, bridgeMs, barriers) => {
        expect(turned(x, OFF, { bridgeMs, barriers })).toEqual(turned(not(x), ON, { bridgeMs, barriers }));
        expect([...rises(x)]).toEqual(expect.arrayContaining(turned(x, ON, { bridgeMs, barriers }).map((turn) => turn.at)));
      }),
      RUNS,
    );
  });
});

/** Walks instant by instant, remembering the last known state and since when nobody knows. */
function byWalking(x: Timeline, to: TruthState, bridgeMs: number, barriers: readonly Interval[]): Turn[] {
  const turns: Turn[] = [];
  let known: TruthState = UNKNOWN;
  let before: TruthState = stateAt(x, START);
  let gapFrom = START;
  for (const t of gridInstants(START, END)) {
    const now = stateAt(x, t);
    if (now === UNKNOWN && before !== UNKNOWN) gapFrom = t;
    if (now === to && t > START && known !== UNKNOWN && known !== to) {
      const earliest = before === UNKNOWN ? gapFrom : t;
      const gap = gridInstants(earliest, t);
      const blocked = barriers.some((barrier) =>
        barrier.from === barrier.to ? earliest <= barrier.from && barrier.from <= t : gap.some((instant) => barrier.from <= instant && instant < barrier.to),
      );
      if (earliest === t || (t - earliest <= bridgeMs && !blocked)) turns.push({ at: t, earliest });
    }
    if (now !== UNKNOWN) known = now;
    before = now;
  }
  return turns;
}

describe("turnedWithin", () => {
  test("is on for the given time from each turn, whatever the signal does meanwhile", () => {
    const bay = timelineOf(0, 60, [[0, OFF], [20, ON], [22, OFF], [40, ON]]);
    expect(turnedWithin(bay, ON, 5, plain)).toEqual(timelineOf(0, 60, [[0, UNKNOWN], [5, OFF], [20, ON], [25, OFF], [40, ON], [45, OFF]]));
  });

  test("turns close together run into one", () => {
    const bay = timelineOf(0, 60, [[0, OFF], [20, ON], [22, OFF], [23, ON]]);
    expect(turnedWithin(bay, ON, 5, plain)).toEqual(timelineOf(0, 60, [[0, UNKNOWN], [5, OFF], [20, ON], [28, OFF]]));
  });

  test("is unknown, not off, while a turn may have gone unseen", () => {
    const phone = timelineOf(0, 60, [[0, OFF], [20, UNKNOWN], [30, ON]]);
    expect(turnedWithin(phone, ON, 5, plain)).toEqual(timelineOf(0, 60, [[0, UNKNOWN], [5, OFF], [20, UNKNOWN], [35, OFF]]));
  });

  test("a bridged turn counts from when it was seen", () => {
    const phone = timelineOf(0, 60, [[0, OFF], [20, UNKNOWN], [22, ON]]);
    expect(turnedWithin(phone, ON, 5, { bridgeMs: 2, barriers: [] })).toEqual(timelineOf(0, 60, [[0, UNKNOWN], [5, OFF], [20, UNKNOWN], [22, ON], [27, OFF]]));
  });

  test("within no time at all is never", () => {
    expect(turnedWithin(timelineOf(0, 60, [[0, OFF], [20, ON]]), ON, 0, plain)).toEqual(constantTimeline(0, 60, OFF));
  });

  test("refuses a negative window", () => {
    expect(() => turnedWithin(constantTimeline(0, 1, ON), ON, -1, plain)).toThrow(RangeError);
  });

  test("at every instant: on within the time after a turn, unknown if anything in [t − within, t] was, else off", () => {
    fc.assert(
      fc.property(anyTimeline, fc.constantFrom(OFF, ON), fc.integer({ min: 0, max: 20 }), fc.integer({ min: 0, max: 15 }), anyBarriers, (x, to, within, bridgeMs, barriers) => {
        const result = turnedWithin(x, to, within, { bridgeMs, barriers });
        expectCanonical(result);
        const turns = byWalking(x, to, bridgeMs, barriers);
        for (const t of gridInstants(START, END)) {
          const fresh = turns.some((turn) => turn.at <= t && t < turn.at + within);
          expect(stateAt(result, t)).toBe(fresh ? ON : windowStates(x, t, within).includes(UNKNOWN) ? UNKNOWN : OFF);
        }
      }),
      RUNS,
    );
  });

  test("never on before the first instant at which the state itself was reached", () => {
    fc.assert(
      fc.property(anyTimeline, fc.integer({ min: 1, max: 20 }), (x, within) => {
        const result = turnedWithin(x, ON, within, plain);
        for (const instant of rises(result)) expect(stateAt(x, instant)).toBe(ON);
        // While fresh and still on, both say on: the conjunction rises exactly where the turn was.
        const fresh = all([x, result]);
        for (const turn of turned(x, ON, plain)) {
          expect(stateAt(fresh, turn.at)).toBe(ON);
          expect(stateAt(x, turn.at - GRID)).toBe(OFF);
        }
      }),
      RUNS,
    );
  });
});
