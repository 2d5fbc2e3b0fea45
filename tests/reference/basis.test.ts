import { describe, expect, test } from "vitest";
import { basisOf } from "../../src/reference/basis.js";

const voice = (id: string, ...shares: string[]) => ({ id, shares });

describe("the basis of a state", () => {
  test.each([
    { who: "nobody", winners: [], losers: [], basis: "none" },
    { who: "one witness", winners: [voice("rail")], losers: [], basis: "one" },
    { who: "two that share nothing", winners: [voice("rail", "board-a"), voice("hinge", "board-b")], losers: [], basis: "several" },
    { who: "two on one board", winners: [voice("rail", "board"), voice("hinge", "board")], losers: [], basis: "one" },
    { who: "three that hang together pair by pair", winners: [voice("a", "x", "y"), voice("b", "y", "z"), voice("c", "z", "x")], losers: [], basis: "one" },
    { who: "two of which one is denied by its own board", winners: [voice("a", "board"), voice("b")], losers: [voice("c", "board")], basis: "one" },
    { who: "two of which one is denied by a third that shares nothing", winners: [voice("a"), voice("b")], losers: [voice("c")], basis: "several" },
    { who: "a board that outvotes its own denier, and another", winners: [voice("a", "board"), voice("b", "board"), voice("d")], losers: [voice("c", "board")], basis: "several" },
  ])("$who: $basis", ({ winners, losers, basis }) => expect(basisOf(winners, losers)).toBe(basis));
});
