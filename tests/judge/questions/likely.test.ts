import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { atLeastChance, isLikely } from "../../../src/judge/questions/likely.js";
import type { Moment } from "../../../src/judge/questions/moments.js";
import { binomialTail } from "../../../src/statistics/tails.js";

/** The same by listing all that may happen. */
function byListing(count: number, chances: readonly number[]): number {
  let sum = 0;
  for (let happened = 0; happened < 2 ** chances.length; happened += 1) {
    const bits = chances.map((_, i) => (happened >> i) & 1);
    if (bits.filter((bit) => bit === 1).length < count) continue;
    sum += chances.reduce((product, chance, i) => product * (bits[i] === 1 ? chance : 1 - chance), 1);
  }
  return sum;
}

describe("the chance that at least so many things happen", () => {
  it("is that found by listing everything", () => {
    fc.assert(
      fc.property(fc.nat(9), fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 8 }), (count, chances) => {
        expect(atLeastChance(count, chances)).toBeCloseTo(byListing(count, chances), 12);
      }),
    );
  });

  it("is the tail of the binomial distribution where all are equally likely", () => {
    expect(atLeastChance(3, new Array<number>(10).fill(0.2))).toBeCloseTo(binomialTail(3, 10, 0.2), 12);
  });
});

describe("whether answers may change a verdict", () => {
  const open = (looks: Moment["looks"], count: number): { moments: Moment[] }[] => Array.from({ length: count }, (_, i) => ({ moments: [{ id: `unlock ${i}`, sort: "firing", at: i, looks }] }));
  const confirmed = (right: number, wrong: number) => ({ firings: { count: right + wrong, right, wrong, unverified: 0 } });

  it("is not likely if 12 of 14 unlocks that look right had to be wrong, and of 70 confirmed ones 20 were", () => {
    expect(isLikely(12, open("right", 14), -1, confirmed(50, 20), 0.95)).toBe(false);
  });

  it("is likely of what looks wrong or unclear, whatever was confirmed", () => {
    expect(isLikely(12, open("wrong", 14), -1, confirmed(70, 0), 0.95)).toBe(true);
    expect(isLikely(12, open("unclear", 14), -1, confirmed(70, 0), 0.95)).toBe(true);
  });

  it("may be while nothing is confirmed", () => {
    expect(isLikely(14, open("right", 14), -1, confirmed(0, 0), 0.95)).toBe(true);
    expect(isLikely(14, open("right", 14), 1, confirmed(0, 0), 0.95)).toBe(true);
  });

  it("is not likely in the rule's favour if 30 of 30 had to be right and every third confirmed one was wrong", () => {
    expect(isLikely(30, open("right", 30), 1, confirmed(40, 20), 0.95)).toBe(false);
    expect(isLikely(30, open("right", 30), 1, confirmed(60, 0), 0.95)).toBe(true);
  });
});
