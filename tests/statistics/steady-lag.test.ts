import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import { byState, gridOf, keepsToGrid, readTogether, type SteadyLag, steadyChance, steadyLag, steadyText, type TurnList } from "../../src/statistics/steady-lag.js";

const MINUTE = 60_000;
const lagOf = (one: TurnList, other: TurnList, windowMs: number): SteadyLag => steadyLag(byState(one), byState(other), windowMs);
/** On and off in turn, `everyMs` apart, each `lagMs[to]` late. */
const alternating = (count: number, everyMs: number, lagMs: readonly [number, number] = [0, 0]): TurnList => {
  const to = Array.from({ length: count }, (_, i) => (i + 1) % 2);
  return { to, at: to.map((state, i) => i * everyMs + lagMs[state as 0 | 1]) };
};

/** The matches by definition: every pair of turns to one state that are each other's nearest, the earlier of two as near. */
function matchesByDefinition(one: TurnList, other: TurnList, windowMs: number): { one: number; other: number; to: number }[] {
  const nearest = (list: TurnList, to: number, instant: number): number | undefined =>
    Array.from(list.at)
      .filter((_, i) => list.to[i] === to)
      .toSorted((a, b) => Math.abs(a - instant) - Math.abs(b - instant) || a - b)[0];
  return [0, 1].flatMap((to) =>
    Array.from(one.at).flatMap((at, i) => {
      const near = one.to[i] === to ? nearest(other, to, at) : undefined;
      return near !== undefined && Math.abs(near - at) <= windowMs && nearest(one, to, near) === at ? [{ one: at, other: near, to }] : [];
    }),
  );
}

const turnList: fc.Arbitrary<TurnList> = fc
  .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: 0, max: 1 })), { maxLength: 20, selector: ([at]) => at })
  .map((turns) => turns.toSorted(([a], [b]) => a - b))
  .map((turns) => ({ at: turns.map(([at]) => at), to: turns.map(([, to]) => to) }));

describe("the lag between two sensors' turns", () => {
  it("is steady where one follows the other by two seconds at every turn", () => {
    expect(lagOf(alternating(6, MINUTE), alternating(6, MINUTE, [2_000, 2_000]), 30_000)).toMatchObject({ matched: 6, steady: 6, turns: 6, lags: true });
  });

  it("has a usual length for each direction", () => {
    const lag = lagOf(alternating(6, MINUTE), alternating(6, MINUTE, [0, -9_000]), 30_000);
    expect(lag).toMatchObject({ matched: 6, steady: 6, lags: true });
  });

  it("is none up to half a second: they change in the same second", () => {
    expect(lagOf(alternating(6, MINUTE), alternating(6, MINUTE, [500, -500]), 30_000).lags).toBe(false);
    expect(lagOf(alternating(6, MINUTE), alternating(6, MINUTE, [0, 501]), 30_000).lags).toBe(true);
  });

  it("is the usual one to within half a second of the median", () => {
    const one = { at: [0, 100_000, 200_000, 300_000, 400_000], to: [1, 1, 1, 1, 1] };
    const other = { at: [3_000, 103_000, 203_500, 302_500, 403_501], to: [1, 1, 1, 1, 1] };
    const lag = lagOf(one, other, 10_000);
    expect(lag).toMatchObject({ matched: 5, steady: 4 });
    expect(lag.pairs.map(({ steady }) => steady)).toEqual([true, true, true, true, false]);
  });

  it("counts the turns of the longer list, whichever that is", () => {
    expect(lagOf(alternating(2, MINUTE), alternating(5, MINUTE), 1_000).turns).toBe(5);
    expect(lagOf(alternating(5, MINUTE), alternating(2, MINUTE), 1_000).turns).toBe(5);
  });

  it("matches turns that are each other's nearest within the window, and no others", () => {
    fc.assert(
      fc.property(turnList, turnList, fc.integer({ min: 0, max: 20 }), (one, other, windowMs) => {
        const pairs = lagOf(one, other, windowMs).pairs.map(({ one, other, to }) => ({ one, other, to }));
        expect(pairs).toEqual(matchesByDefinition(one, other, windowMs));
      }),
      { numRuns: 300 },
    );
  });
});

describe("how likely a steady lag is of independent sensors", () => {
  // P(X ≥ 18) of 20 at 0.75 is 0.0913 in tables of the binomial distribution.
  it("is the binomial tail beyond three turns in four", () => {
    expect(steadyChance({ matched: 20, steady: 18, turns: 20, lags: false, pairs: [] })).toBeCloseTo(0.0913, 4);
  });

  it("is not told without a match, below nine steady in ten, or when fewer than half of the turns match", () => {
    expect(steadyChance({ matched: 0, steady: 0, turns: 0, lags: false, pairs: [] })).toBeNull();
    expect(steadyChance({ matched: 20, steady: 17, turns: 20, lags: false, pairs: [] })).toBeNull();
    expect(steadyChance({ matched: 20, steady: 20, turns: 41, lags: false, pairs: [] })).toBeNull();
    expect(steadyChance({ matched: 20, steady: 20, turns: 40, lags: false, pairs: [] })).toBeCloseTo(0.75 ** 20, 12);
  });

  it("is put in words", () => {
    expect(steadyText({ matched: 20, steady: 18, turns: 20, lags: false, pairs: [] })).toBe("changed in the same second at 18 of 20 turns");
    expect(steadyText({ matched: 9, steady: 9, turns: 9, lags: true, pairs: [] })).toBe("changed with the same delay to the second at 9 of 9 turns");
  });
});

describe("the grid of stamps", () => {
  const from = Date.UTC(2026, 2, 1, 7, 3, 20);
  it.each([3_600_000, 900_000, 300_000, 60_000, 30_000, 10_000])("is %i ms for stamps that many ms apart", (gridMs) => {
    const stamps = [0, 1, 2, 5, 7].map((steps) => from + steps * gridMs);
    expect(gridOf(stamps)).toBe(gridMs);
    expect(keepsToGrid(stamps)).toBe(true);
  });

  it("is kept when nine in ten keep to it", () => {
    const stamps = Array.from({ length: 10 }, (_, i) => from + i * MINUTE + (i === 7 ? 1_234 : 0));
    expect(gridOf(stamps)).toBe(MINUTE);
    expect(gridOf(stamps.with(3, from + 1_717))).toBe(0);
  });

  it("is none for stamps to the second", () => {
    expect(keepsToGrid([0, 13, 47, 101].map((seconds) => from + seconds * 1_000))).toBe(false);
  });
});

test("two are read together when half of the shorter list of readings lies at instants of the longer", () => {
  const every = (stepMs: number, count: number, fromMs = 0): number[] => Array.from({ length: count }, (_, i) => fromMs + i * stepMs);
  const one = { readAt: every(10_000, 40), turns: 10 };
  expect(readTogether(one, { readAt: [...every(20_000, 10), ...every(20_000, 10, 1)], turns: 5 })).toBe(true);
  expect(readTogether(one, { readAt: [...every(20_000, 9), ...every(20_000, 11, 1)], turns: 5 })).toBe(false);
  // Fewer than four readings a turn: read when it turns, so that equal instants do mean something.
  expect(readTogether({ ...one, turns: 11 }, one)).toBe(false);
  expect(readTogether(one, { ...one, turns: 11 })).toBe(false);
});
