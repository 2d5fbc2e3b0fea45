import { range } from "d3-array";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { askingOrder, checkedFirings } from "../../../src/judge/evidence/checked.js";
import { checkedOnly, firingEvidence, type FiringsCounted } from "../../../src/judge/evidence/firing-evidence.js";
import { keepsWithin, largestAllowed, rateUpperAtEveryLook } from "../../../src/statistics/every-look.js";
import { generator, shuffle } from "../../../src/statistics/random-order.js";
import type { FiringOutcome } from "../../../src/result/rules.js";

const HOUR = 3_600_000;
/** A firing a day at noon or at three in the night, UTC. */
const firing = (day: number, outcome: FiringOutcome, hour = 12): { at: number; outcome: FiringOutcome } => ({ at: Date.UTC(2026, 9, day, hour), outcome });

describe("checked firings", () => {
  it("are told apart by day and night, local time", () => {
    const [day, night] = checkedFirings([firing(1, "right"), firing(2, "wrong", 3), firing(3, "unverified", 4)], "UTC");
    expect(day).toEqual({ firings: 1, drawn: 1, wrongDrawn: 0, wrong: 0, unverified: 0 });
    expect(night).toMatchObject({ firings: 2, wrong: 1, unverified: 1 });
    // 04:00 UTC is 21:00 of the evening before in Los Angeles, and 03:00 is 20:00.
    expect(checkedFirings([firing(2, "wrong", 3), firing(3, "unverified", 4)], "America/Los_Angeles")[1]?.firings).toBe(0);
  });

  it("count as drawn up to the first in the asking order that nobody confirmed", () => {
    const days = range(1, 21).toSorted((a, b) => askingOrder(firing(a, "right").at) - askingOrder(firing(b, "right").at));
    const open = new Set([days[7], days[12]]);
    const firings = range(1, 21).map((day) => firing(day, open.has(day) ? "unverified" : day === days[2] ? "wrong" : "right"));
    expect(checkedFirings(firings, "UTC")[0]).toEqual({ firings: 20, drawn: 7, wrongDrawn: 1, wrong: 1, unverified: 2 });
  });

  it("stand in an order that is the same whatever came to be known, and has nothing to do with time", () => {
    const order = range(1000).map((i) => askingOrder(Date.UTC(2026, 9, 1) + i * HOUR));
    expect(new Set(order).size).toBe(1000);
    const later = order.filter((one, i) => one > (order[i - 1] ?? 0)).length;
    expect(later).toBeGreaterThan(440);
    expect(later).toBeLessThan(560);
    // Hours of the day are spread evenly among the first hundred asked.
    const first = range(1000).toSorted((a, b) => (order[a] ?? 0) - (order[b] ?? 0)).slice(0, 100);
    expect(first.filter((i) => i % 24 < 12).length).toBeGreaterThan(35);
    expect(first.filter((i) => i % 24 < 12).length).toBeLessThan(65);
  });
});

const YEAR = 1;
const counted = (more: Partial<FiringsCounted["heard"]>, confirmedYears = 0): FiringsCounted => ({
  confirmed: { count: 0, factor: 1, years: confirmedYears }, heard: { years: YEAR, wrongOccasions: [], checked: [], ...more }, unseenClump: 1,
});
const upper = (one: FiringsCounted): number => largestAllowed(firingEvidence(one), 0.95);
const list = (drawn: number, unverified: number, wrong = 0) => ({ firings: 60, drawn, wrongDrawn: 0, wrong, unverified });

describe("the evidence of both ways of counting", () => {
  it("is that of the time alone, at a little less than the confidence, where firings show nothing", () => {
    const bound = upper(counted({ years: 0 }, YEAR));
    expect(bound).toBeGreaterThan(rateUpperAtEveryLook(0, YEAR, 0.95));
    expect(bound).toBeLessThanOrEqual(rateUpperAtEveryLook(0, YEAR, 0.975) + 1e-9);
  });

  it("falls with every firing that is checked", () => {
    const bounds = range(0, 60, 5).map((drawn) => upper(counted({ checked: [list(drawn, 60 - drawn)] })));
    expect(bounds.every((one, i) => i === 0 || one <= (bounds[i - 1] ?? 0) + 1e-9)).toBe(true);
    expect(upper(counted({ checked: [list(60, 0)] }))).toBeLessThan((bounds[0] ?? 0) / 10);
  });

  it("takes all unverified firings for wrong while none was drawn", () => {
    const asWrong = checkedOnly(counted({ wrongOccasions: new Array<number>(12).fill(1), checked: [{ ...list(0, 0), wrong: 12 }] }));
    const open = checkedOnly(counted({ checked: [list(0, 12)] }));
    for (const rate of [5, 15, 30]) expect(open(rate)).toBeCloseTo(asWrong(rate), 9);
  });

  it("rises with the rate", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 60 }), fc.double({ min: 0.01, max: 200, noNaN: true }), fc.double({ min: 1, max: 3, noNaN: true }), (drawn, rate, times) => {
        const evidence = firingEvidence(counted({ checked: [list(drawn, 60 - drawn)] }, 0.3));
        expect(evidence(rate * times)).toBeGreaterThanOrEqual(evidence(rate) - 1e-9);
      }),
    );
  });

  it("clears a rule at its limit in fewer than one of twenty histories, whoever stops asking when they like", () => {
    // Forty firings a month at random; each wrong with a chance that makes ten wrong a year; nobody confirms any until asked.
    const random = generator(7);
    const limit = 10;
    const poisson = (mean: number): number => {
      let [count, product] = [0, random()];
      while (product > Math.exp(-mean)) [count, product] = [count + 1, product * random()];
      return count;
    };
    let cleared = 0;
    const histories = 400;
    for (let history = 0; history < histories; history += 1) {
      const checked: FiringsCounted["heard"]["checked"][number][] = [];
      const found = range(6).some((month) => {
        const wrong = poisson(limit / 12);
        const firings = wrong + poisson(8);
        const order = Float64Array.from({ length: firings }, (_, i) => (i < wrong ? 1 : 0));
        shuffle(order, random);
        return range(firings + 1).some((drawn) => {
          const wrongDrawn = order.slice(0, drawn).reduce((sum, one) => sum + one, 0);
          const now = { firings, drawn, wrongDrawn, wrong: wrongDrawn, unverified: firings - drawn };
          const heard = { years: (month + 1) / 12, wrongOccasions: new Array<number>(wrongDrawn + checked.reduce((sum, one) => sum + one.wrong, 0)).fill(1), checked: [...checked, now] };
          if (keepsWithin(firingEvidence(counted(heard)), limit, 0.95)) return true;
          if (drawn === firings) checked.push(now);
          return false;
        });
      });
      if (found) cleared += 1;
    }
    expect(cleared / histories).toBeLessThan(0.05);
  }, 60_000);
});
