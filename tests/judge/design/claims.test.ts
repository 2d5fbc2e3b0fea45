import { describe, expect, test } from "vitest";
import { limitClaims } from "../../../src/judge/design/claims.js";
import { designFigures } from "../../../src/judge/design/road.js";
import { wrongBoundAfter } from "../../../src/judge/evidence/figures.js";
import type { DesignHistory, DesignRoad } from "../../../src/result/design.js";
import { inputOf, type Past } from "../verdict/past.js";
import { history, part, stretch } from "./histories.js";

const standard = { act: "unlock", limits: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: 120_000 }, confidence: 0.95 } as const;
const quiet = history(31, part("vehicles", 120, []), part("people", 600, []));
const past: Past = { days: 31, right: 40, served: 40 };

function roadOf(seen: DesignHistory, more: Partial<DesignRoad> = {}): DesignRoad {
  const said = { commonShare: 0.1, commonShareBecause: null, noSharedHoursBecause: null };
  return { ...said, conditions: [], tests: [], history: seen, figures: designFigures(seen, said, 1, { wrong: 0, unconfirmed: 0, years: 31 / 365.25, leastShare: 1 }, { confidence: 0.95, limitPerYear: 0.5 }), ...more };
}

const claims = (design: DesignRoad | null, more: Partial<Past> = {}) => limitClaims(inputOf({ ...past, ...more }).figures, design, design?.history ?? null, standard);

describe("what counting supports", () => {
  test("is the bound now, and after 3, 6, 12 and 24 months more of the same", () => {
    const { figures } = inputOf(past);
    const found = claims(null);
    expect(found.map((one) => one.moreMonths)).toEqual([0, 3, 6, 12, 24]);
    expect(found[0]?.byCounting).toBe(figures.bounds.wrongUpper);
    const months = figures.evidence.yearsSeen * (365.25 / 30);
    for (const { moreMonths, byCounting } of found.slice(1)) expect(byCounting).toBeCloseTo(wrongBoundAfter(figures, (months + moreMonths) / months, 0.95), 9);
    expect(found.every((one, i) => i === 0 || one.byCounting! < found[i - 1]!.byCounting!)).toBe(true);
  });

  test("is next to nothing where an hour of the day is never confirmed and firings are not either", () => {
    const unseen = { confirmedHours: [...new Array<number>(23).fill(31), 0] };
    const alike = claims(null, unseen)[0]?.byCounting ?? NaN;
    expect(alike).toBeGreaterThan(claims(null)[0]?.byCounting ?? NaN);
    expect(claims(null, { ...unseen, unverified: 20 })[0]?.byCounting).toBeGreaterThan(20 * (365.25 / 31));
  });

  test("is nothing where nothing was seen", () => {
    expect(claims(roadOf(quiet), { blindDays: 31 })).toEqual([0, 3, 6, 12, 24].map((moreMonths) => ({ moreMonths, byCounting: null, byDesign: null })));
  });
});

describe("what the design supports", () => {
  test("is nothing before three months, and then less the longer it is quiet", () => {
    const found = claims(roadOf(quiet)).map((one) => one.byDesign);
    expect(found[0]).toBeNull();
    expect(found.slice(1).every((one) => one !== null)).toBe(true);
    expect(found[2]!).toBeLessThan(found[1]!);
    expect(found[4]!).toBeLessThan(found[3]!);
  });

  test("is less than counting supports, for two parts that never stirred", () => {
    const last = claims(roadOf(quiet)).at(-1)!;
    expect(last.byDesign!).toBeLessThan(last.byCounting! / 2);
  });

  test("is nothing where the rule's structure closes the road", () => {
    expect(claims(roadOf(quiet, { conditions: [{ code: "cover", holds: false, text: "" }] })).every((one) => one.byDesign === null)).toBe(true);
  });

  test("is nothing where its history closes it for another reason than time", () => {
    expect(claims(roadOf({ ...quiet, trueTogether: 1 })).every((one) => one.byDesign === null)).toBe(true);
  });

  test("is nothing for a rule without two parts", () => {
    expect(claims(null).every((one) => one.byDesign === null)).toBe(true);
    expect(claims(roadOf(quiet, { history: null, figures: null })).every((one) => one.byDesign === null)).toBe(true);
  });

  test("expects as many stretches a month as were seen", () => {
    const busy = history(31, part("vehicles", 120, [stretch(3, "09:00", 120)]), part("people", 600, [stretch(8, "18:00", 600), stretch(20, "07:00", 600)]));
    const [three, six] = claims(roadOf(busy)).slice(1).map((one) => one.byDesign!);
    expect(three!).toBeGreaterThan(claims(roadOf(quiet))[1]!.byDesign!);
    expect(six!).toBeLessThan(three!);
  });
});
