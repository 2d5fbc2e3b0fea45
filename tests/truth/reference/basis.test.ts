import { describe, expect, test } from "vitest";
import { basisOf } from "../../../src/truth/reference/basis.js";

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
