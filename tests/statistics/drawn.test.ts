import { range } from "d3-array";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { drawnEvidence, mostBad, together } from "../../src/statistics/drawn.js";

/** The chance that the evidence against the true number ever reaches `bar` while all are drawn one by one, worked out path by path. */
function chanceEverAgainst(all: number, bad: number, bar: number): number {
  // By how many of those drawn are bad: the chance to be there without having reached the bar.
  let there = new Map([[0, 1]]);
  let ever = 0;
  for (let drawn = 0; drawn < all; drawn += 1) {
    const next = new Map<number, number>();
    for (const [found, chance] of there) {
      const chanceBad = (bad - found) / (all - drawn);
      for (const [then, share] of [[found + 1, chanceBad], [found, 1 - chanceBad]] as const) {
        if (share <= 0) continue;
        const evidence = drawnEvidence({ all, drawn: drawn + 1, bad: then })[bad] ?? NaN;
        if (evidence >= bar) ever += chance * share;
        else next.set(then, (next.get(then) ?? 0) + chance * share);
      }
    }
    there = next;
  }
  return ever;
}

describe("a draw without replacement", () => {
  it("rules out the true number in at most one of twenty draws, however often one looks", () => {
    const bar = Math.log(20);
    for (const all of [1, 2, 7, 20, 40]) {
      for (const bad of range(all + 1)) expect(chanceEverAgainst(all, bad, bar)).toBeLessThanOrEqual(0.05);
    }
    // And it is no empty promise: for some number it comes near.
    expect(Math.max(...range(41).map((bad) => chanceEverAgainst(40, bad, bar)))).toBeGreaterThan(0.02);
  });

  it("leaves everything open before anything was drawn, and nothing when all were", () => {
    expect(mostBad({ all: 12, drawn: 0, bad: 0 }, 0.95)).toBe(12);
    expect(mostBad({ all: 12, drawn: 12, bad: 3 }, 0.95)).toBe(3);
    expect(drawnEvidence({ all: 12, drawn: 12, bad: 3 }).filter(Number.isFinite)).toHaveLength(1);
  });

  it("allows never fewer than the exact hypergeometric bound of one look does", () => {
    // P(none bad among 10 of 57) is above 5 % up to 13 bad ones and below from 14 on: C(57-K, 10) / C(57, 10), worked out by hand.
    const none = (bad: number): number => range(10).reduce((chance, i) => chance * ((57 - bad - i) / (57 - i)), 1);
    const oneLook = range(58).findLast((bad) => none(bad) > 0.05) ?? 0;
    const every = mostBad({ all: 57, drawn: 10, bad: 0 }, 0.95);
    expect(oneLook).toBe(13);
    expect(every).toBeGreaterThanOrEqual(oneLook);
    expect(every).toBeLessThanOrEqual(18);
  });

  it("allows fewer, the more good ones are drawn", () => {
    const most = range(58).map((drawn) => mostBad({ all: 57, drawn, bad: 0 }, 0.95));
    expect(most.every((one, i) => i === 0 || one <= (most[i - 1] ?? 0))).toBe(true);
  });

  it("refuses draws that cannot be", () => {
    expect(() => drawnEvidence({ all: 3, drawn: 4, bad: 0 })).toThrow("0 of 4 drawn from 3 cannot be.");
    expect(() => drawnEvidence({ all: 3, drawn: 1, bad: 2 })).toThrow("2 of 1 drawn from 3 cannot be.");
  });
});

describe("two draws together", () => {
  it("speak against a number as little as they do at its best split", () => {
    const evidence = fc.array(fc.double({ min: -2, max: 20, noNaN: true }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(evidence, evidence, (first, second) => {
        const sums = together(first, second);
        expect(sums).toHaveLength(first.length + second.length - 1);
        sums.forEach((sum, many) => {
          const splits = range(many + 1).flatMap((i) => (first[i] === undefined || second[many - i] === undefined ? [] : [first[i] + (second[many - i] ?? NaN)]));
          expect(sum).toBe(Math.min(...splits));
        });
      }),
    );
  });
});
