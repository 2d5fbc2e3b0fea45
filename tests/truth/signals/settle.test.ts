import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { settledSteps, type SettleRule } from "../../../src/truth/signals/settle.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { steps } from "./small-site.js";
import type { Interval } from "../../../src/ground/intervals.js";

type Rows = readonly (readonly [number, number])[];

interface Between {
  readonly betweenMs: number;
  readonly backdates: boolean;
}

function settled(rows: Rows, settleMs: number, dark: readonly Interval[] = [], resumes = false, end = 1000, between: Between = { betweenMs: 30, backdates: false }): Timeline {
  const rule: SettleRule = { settleMs, resumes, ...between };
  const out = settledSteps(
    Float64Array.from(rows, ([at]) => at),
    Uint8Array.from(rows, ([, state]) => state),
    dark,
    rule,
  );
  return canonicalTimeline(0, end, out.times, out.states);
}

describe("a new state", () => {
  test("is taken on one settling time after its first reading", () => {
    expect(steps(settled([[100, 0], [200, 1], [210, 1]], 20))).toEqual([[0, 2], [120, 0], [220, 1]]);
  });

  test("is taken on without a second reading, if nothing contradicts", () => {
    expect(steps(settled([[100, 0], [200, 1]], 20))).toEqual([[0, 2], [120, 0], [220, 1]]);
  });

  test("is not taken on when a reading contradicts in time, be it at the last instant", () => {
    expect(steps(settled([[100, 0], [200, 1], [210, 0]], 20))).toEqual([[0, 2], [120, 0]]);
    expect(steps(settled([[100, 0], [200, 1], [220, 0]], 20))).toEqual([[0, 2], [120, 0]]);
    expect(steps(settled([[100, 0], [200, 1], [221, 0]], 20))).toEqual([[0, 2], [120, 0], [220, 1], [241, 0]]);
  });

  test("begins to settle anew after each contradiction", () => {
    expect(steps(settled([[0, 0], [200, 1], [215, 0], [230, 1]], 20))).toEqual([[0, 2], [20, 0], [250, 1]]);
  });

  test("holds at once where there is no settling, the last of simultaneous readings winning", () => {
    expect(steps(settled([[100, 0], [200, 1], [200, 0], [300, 1]], 0))).toEqual([[0, 2], [100, 0], [300, 1]]);
  });

  test("of unknown needs no settling, and what comes after it does", () => {
    expect(steps(settled([[100, 1], [200, 2], [300, 1]], 20))).toEqual([[0, 2], [120, 1], [200, 2], [320, 1]]);
  });
});

describe("a dark stretch", () => {
  const dark = [{ from: 200, to: 300 }];

  test("is unknown, and a periodic signal must speak and settle before it is known again", () => {
    expect(steps(settled([[100, 1], [300, 1]], 20, dark))).toEqual([[0, 2], [120, 1], [200, 2], [320, 1]]);
    expect(steps(settled([[100, 1]], 20, dark))).toEqual([[0, 2], [120, 1], [200, 2]]);
  });

  test("does not bring the old state back for the time the new one takes to settle: that would look like a turn", () => {
    expect(steps(settled([[100, 0], [300, 1]], 20, dark))).toEqual([[0, 2], [120, 0], [200, 2], [320, 1]]);
    expect(steps(settled([[100, 0], [300, 1]], 20, dark, true))).toEqual([[0, 2], [120, 0], [200, 2], [320, 1]]);
  });

  test("gives the last state back to a signal that only reports changes and says nothing", () => {
    expect(steps(settled([[100, 1], [500, 0]], 20, dark, true))).toEqual([[0, 2], [120, 1], [200, 2], [300, 1], [520, 0]]);
  });

  test("does not give back a state that the signal itself no longer knew", () => {
    expect(steps(settled([[100, 1], [150, 2]], 20, dark, true))).toEqual([[0, 2], [120, 1], [150, 2]]);
    expect(steps(settled([[100, 1], [250, 2]], 20, dark, true))).toEqual([[0, 2], [120, 1], [200, 2]]);
  });

  test("takes readings in and says them when it is over", () => {
    expect(steps(settled([[100, 0], [250, 1]], 20, dark, true))).toEqual([[0, 2], [120, 0], [200, 2], [300, 1]]);
    expect(steps(settled([[100, 0], [290, 1]], 20, dark))).toEqual([[0, 2], [120, 0], [200, 2], [310, 1]]);
  });

  test("without end leaves the signal unknown", () => {
    expect(steps(settled([[100, 1]], 0, [{ from: 200, to: Infinity }], true))).toEqual([[0, 2], [100, 1], [200, 2]]);
  });
});

describe("a reading between the states", () => {
  const afterwards = { betweenMs: 30, backdates: true };

  test("caught on the way says nothing: the old state stays until the new one has settled", () => {
    expect(steps(settled([[100, 0], [200, 3], [210, 1]], 20))).toEqual([[0, 2], [120, 0], [230, 1]]);
    expect(steps(settled([[100, 1], [200, 3], [205, 3], [229, 0]], 20))).toEqual([[0, 2], [120, 1], [249, 0]]);
  });

  test("that stands makes the signal unknown once it has stood long enough, and afterwards from its first on", () => {
    expect(steps(settled([[100, 0], [200, 3], [260, 3], [400, 1]], 20))).toEqual([[0, 2], [120, 0], [230, 2], [420, 1]]);
    expect(steps(settled([[100, 0], [200, 3], [260, 3], [400, 1]], 20, [], false, 1000, afterwards))).toEqual([[0, 2], [120, 0], [200, 2], [420, 1]]);
  });

  test("that stands alone is enough: a sensor that only reports changes says no more", () => {
    expect(steps(settled([[100, 0], [200, 3]], 20, [], true))).toEqual([[0, 2], [120, 0], [230, 2]]);
  });

  test("now and then among those of the state changes nothing", () => {
    expect(steps(settled([[100, 0], [200, 3], [215, 0], [230, 3], [245, 0]], 20))).toEqual([[0, 2], [120, 0]]);
  });

  test("ends the settling of a state, as a reading of the other would", () => {
    expect(steps(settled([[100, 0], [200, 1], [210, 3], [215, 1]], 20))).toEqual([[0, 2], [120, 0], [235, 1]]);
  });

  test("is no state to come back to after a dark stretch", () => {
    expect(steps(settled([[100, 1], [190, 3]], 20, [{ from: 200, to: 300 }], true))).toEqual([[0, 2], [120, 1], [200, 2]]);
    expect(steps(settled([[100, 1], [250, 3]], 20, [{ from: 200, to: 300 }], true))).toEqual([[0, 2], [120, 1], [200, 2]]);
  });
});

const END = 40;
const someRows = fc
  .array(fc.tuple(fc.integer({ min: 0, max: END - 1 }), fc.constantFrom(0, 1, 1, 0, 2, 3)), { maxLength: 14 })
  .map((rows) => rows.toSorted((a, b) => a[0] - b[0]));
const someDark = fc.uniqueArray(fc.integer({ min: 0, max: END + 5 }), { maxLength: 6 }).map((cuts) => {
  const sorted = cuts.toSorted((a, b) => a - b);
  return Array.from({ length: Math.floor(sorted.length / 2) }, (_, i): Interval => ({ from: sorted[2 * i]!, to: sorted[2 * i + 1]! }));
});

/** The same told by a clock that ticks through every instant and knows only what it has heard so far. */
function ticking(rows: Rows, settleMs: number, dark: readonly Interval[], resumes: boolean, betweenMs: number): number[] {
  let known = 2;
  let waiting: { state: number; since: number } | null = null;
  return Array.from({ length: END }, (_, now) => {
    for (const [, state] of rows.filter(([at]) => at === now)) {
      if (state === 2) [known, waiting] = [2, null];
      else if (state === known || (state === 3 && known === 2)) waiting = null;
      else if (waiting?.state !== state) waiting = { state, since: now };
    }
    const stretch = dark.find((one) => one.from <= now && now < one.to);
    if (stretch?.from === now) {
      // What would have been taken on at this very instant is not: the dark begins with it.
      if (!resumes) waiting = null;
      else if (waiting === null && known !== 2) waiting = { state: known, since: -Infinity };
      known = 2;
    }
    const takes = waiting?.state === 3 ? betweenMs : settleMs;
    if (stretch === undefined && waiting !== null && now >= waiting.since + takes) [known, waiting] = [Math.min(waiting.state, 2), null];
    return known;
  });
}

describe("settling, by property", () => {
  test("is what a clock that ticks through every instant would say", () => {
    fc.assert(
      fc.property(someRows, fc.integer({ min: 0, max: 8 }), someDark, fc.boolean(), fc.integer({ min: 0, max: 12 }), (rows, settleMs, dark, resumes, betweenMs) => {
        const fast = settled(rows, settleMs, dark, resumes, END, { betweenMs, backdates: false });
        expect(Array.from({ length: END }, (_, at) => stateAt(fast, at))).toEqual(ticking(rows, settleMs, dark, resumes, betweenMs));
      }),
      { numRuns: 1000 },
    );
  });

  test("backdating only ever takes away: it is unknown or what was said at the time", () => {
    fc.assert(
      fc.property(someRows, fc.integer({ min: 0, max: 8 }), someDark, fc.boolean(), fc.integer({ min: 0, max: 12 }), (rows, settleMs, dark, resumes, betweenMs) => {
        const [then, since] = [false, true].map((backdates) => settled(rows, settleMs, dark, resumes, END, { betweenMs, backdates }));
        for (let at = 0; at < END; at += 1) expect([2, stateAt(then!, at)]).toContain(stateAt(since!, at));
      }),
      { numRuns: 500 },
    );
  });

  test("is never earlier than a live system could know: later readings change nothing before them", () => {
    fc.assert(
      fc.property(someRows, someRows, fc.integer({ min: 0, max: 8 }), fc.integer({ min: 0, max: END }), (one, other, settleMs, now) => {
        const future = [...one.filter(([at]) => at < now), ...other.filter(([at]) => at >= now)];
        const [first, second] = [settled(one, settleMs, [], false, END), settled(future, settleMs, [], false, END)];
        for (let at = 0; at < now; at += 1) expect(stateAt(second, at)).toBe(stateAt(first, at));
      }),
      { numRuns: 300 },
    );
  });
});
