import { describe, expect, test } from "vitest";
import { basisOf, mostBelievable } from "../../../src/truth/reference/vouching.js";

const of = (...groups: string[]) => groups.map((group) => ({ group }));

describe("the basis of a state", () => {
  test.each([
    { who: "nobody", winners: [], losers: [], basis: "none" },
    { who: "one witness", winners: of("rail"), losers: [], basis: "one" },
    { who: "two of different groups", winners: of("board-a", "board-b"), losers: [], basis: "several" },
    { who: "two of one group", winners: of("board", "board"), losers: [], basis: "one" },
    { who: "two of which one is denied by its own group", winners: of("board", "b"), losers: of("board"), basis: "one" },
    { who: "two of which one is denied by a third of another group", winners: of("a", "b"), losers: of("c"), basis: "several" },
    { who: "a group that outvotes its own denier, and another", winners: of("board", "board", "d"), losers: of("board"), basis: "several" },
  ])("$who: $basis", ({ winners, losers, basis }) => expect(basisOf(winners, losers)).toBe(basis));
});

const rates = { saysOnGivenOff: [0.05, 0.01, 0.05, 0.05], saysOffGivenOn: [0.05, 0.2, 0.05, 0.05] };
const voice = (group: string, place: number) => ({ group, place });

test("a state that one group vouches for is believed as far as the best of its members alone", () => {
  expect(mostBelievable(1, [voice("a", 0)], [], rates)).toBeCloseTo(0.95, 12);
  expect(mostBelievable(1, [voice("a", 0), voice("a", 2)], [], rates)).toBeCloseTo(0.95, 12);
  expect(mostBelievable(1, [voice("a", 0), voice("a", 1)], [], rates)).toBeCloseTo(0.8 / 0.81, 12);
  expect(mostBelievable(0, [voice("a", 1)], [voice("b", 0)], rates)).toBeCloseTo(0.99 / 1.19, 12);
});

test("of several groups it depends on how many more they are than those who deny it", () => {
  const [a, b, c, d] = ["a", "b", "c", "d"].map(voice) as [ReturnType<typeof voice>, ReturnType<typeof voice>, ReturnType<typeof voice>, ReturnType<typeof voice>];
  expect(mostBelievable(1, [a, b], [c], rates)).toBe(0.95);
  expect(mostBelievable(1, [a, b], [], rates)).toBe(0.99);
  expect(mostBelievable(1, [a, b, c], [d], rates)).toBe(0.99);
  expect(mostBelievable(1, [a, b, c], [], rates)).toBeGreaterThan(0.99);
});
