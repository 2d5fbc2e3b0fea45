import { describe, expect, test } from "vitest";
import { designHistory, joinedHistories } from "../../../src/judge/design/history.js";
import { splitRule } from "../../../src/judge/design/parts.js";
import { timeOfDayBound } from "../../../src/judge/design/bounds.js";
import type { DesignHistory } from "../../../src/result/design.js";
import type { Interval } from "../../../src/ground/intervals.js";
import { YEAR_MS } from "../../../src/ground/units.js";
import { accountsOf, allOf, bookOf, min, over, ruleOf, siteOf, turned, type Told } from "../small-site.js";
import { history, part, stretch } from "./histories.js";

const siteWith = (phone: string) => ({ ...siteOf({ subjects: { "bay-1": "bay", mira: "person", tom: "person" }, signals: { wall: "bay-1", phone } }), timeZone: "UTC" });
const rule = ruleOf(allOf(turned("wall", 1, 2), turned("phone", 1, 10)), turned("mira", 1, 20));
const lags = new Map([["wall", { leastMs: 0, mostMs: min(1) }], ["phone", { leastMs: 0, mostMs: min(3) }]]);

/** Thursday to Saturday, 1 to 3 January 1970. */
const threeDays: Interval = { from: 0, to: min(3 * 1440) };

interface Seen {
  readonly wall: string;
  readonly phone: string;
  readonly mira?: string;
  readonly bay?: Told;
  readonly leftOut?: readonly Interval[];
  /** Whom the phone belongs to; the rule is right for Mira only. */
  readonly phoneOf?: "mira" | "tom";
  readonly tom?: string;
}

function made({ wall, phone, mira = "0 on", bay = { truth: "0 on", basis: "diary" }, leftOut = [], phoneOf = "mira", tom = "0 off" }: Seen): DesignHistory {
  const site = siteWith(phoneOf);
  const told = over(site, rule, accountsOf({ wall, phone }, [], threeDays), bookOf({ "bay-1": bay, mira: { truth: mira, outside: mira, basis: "diary" }, tom: { truth: tom, basis: "diary" } }, threeDays), threeDays);
  const split = splitRule(told, []);
  if ("why" in split) throw new RangeError(split.why);
  return designHistory(told, split.parts, lags, leftOut);
}

const stretches = ({ parts }: DesignHistory) => parts.map((one) => one.stretches.map(({ day, at, seconds, explained }) => [day, at / 60, seconds / 60, explained]));

describe("what each part did while firing would have been wrong", () => {
  test("is a stretch as long as its window for each report, by day and clock", () => {
    const found = made({ wall: "0 on, 100 off, 200 on", phone: "0 on, 1500 off, 1540 on" });
    expect(stretches(found)).toEqual([[[0, 200, 2, false]], [[1, 100, 10, false]]]);
    expect(found.parts.map(({ name, signals, longestSeconds }) => [name, signals, longestSeconds])).toEqual([["vehicles", ["wall"], 120], ["people", ["phone"], 600]]);
  });

  test("is cut to that time: what reaches into an arrival is left out from there on", () => {
    // Mira arrives at 208; firing up to two minutes before that is right too.
    const early = 2;
    const found = made({ wall: "0 on, 100 off, 200 on", phone: "0 on, 150 off, 202 on", mira: "0 on, 60 off, 208 on" });
    expect(stretches(found)[1]).toEqual([[0, 202, 6 - early, true]]);
    const far = made({ wall: "0 on, 100 off, 200 on", phone: "0 on, 150 off, 215 on", mira: "0 on, 60 off, 208 on" });
    expect(stretches(far)[1]).toEqual([]);
  });

  test("leaves out days on which nobody was at home, with all that fell on them", () => {
    const found = made({ wall: "0 on, 1600 off, 1700 on, 4000 off, 4100 on", phone: "0 on", mira: "0 on, 1400 off, 3000 on" });
    expect(found.days).toBe("wxe");
    expect(stretches(found)[0]).toEqual([[2, 1220, 2, false]]);
  });

  test("leaves out the time of tests on purpose", () => {
    const seen = { wall: "0 on, 100 off, 200 on", phone: "0 on" };
    const found = made({ ...seen, leftOut: [{ from: min(190), to: min(210) }] });
    expect(stretches(found)[0]).toEqual([]);
    expect(found.years).toBeCloseTo(made(seen).years - min(20) / YEAR_MS, 12);
  });

  test("leaves out the time in which a way of firing could not be heard", () => {
    const found = made({ wall: "0 on, 100 ?, 700 on", phone: "0 on" });
    // A look back of two minutes is unheard too, and every period begins with one of ten.
    expect(found.years).toBeLessThan(made({ wall: "0 on", phone: "0 on" }).years - min(600) / YEAR_MS);
  });
});

describe("a stretch is explained", () => {
  const comes = { truth: "0 on, 100 off, 200 on", basis: "diary" } as const;

  test("where the diary says that what it reports did happen, at once or as late as its sensors usually tell", () => {
    const wallAt = (minute: number) => stretches(made({ wall: `0 on, 100 off, ${minute} on`, phone: "0 on", bay: comes }))[0];
    expect(wallAt(200)).toEqual([[0, 200, 2, true]]);
    // The window, a lag of a minute, and a minute to spare after the true event.
    expect(wallAt(203)).toEqual([[0, 203, 2, true]]);
    expect(wallAt(205)).toEqual([[0, 205, 2, false]]);
  });

  test("only where two sensors or the diary say so", () => {
    const found = made({ wall: "0 on, 100 off, 200 on", phone: "0 on", bay: { ...comes, basis: "one" } });
    expect(stretches(found)[0]).toEqual([[0, 200, 2, false]]);
  });

  test("and is counted where true events move both parts at once while firing would be wrong", () => {
    // Tom comes home in the vehicle, but acting is right for Mira only.
    const comesToo = { wall: "0 on, 100 off, 200 on", phone: "0 on, 100 off, 201 on", bay: comes, phoneOf: "tom" } as const;
    expect(made({ ...comesToo, tom: "0 on, 100 off, 200 on" }).trueTogether).toBe(1);
    // Only his phone says so.
    expect(made({ ...comesToo, tom: "0 on" }).trueTogether).toBe(0);
  });
});

test("the share of time at home asks for a vehicle in a bay and for somebody", () => {
  const seen = { wall: "0 on", phone: "0 on" };
  expect(made(seen).homeShare).toBe(1);
  expect(made({ ...seen, bay: { truth: "0 off, 2160 on", basis: "diary" } }).homeShare).toBeCloseTo(0.5, 2);
});

describe("two months joined", () => {
  const october = history("wwwwwee", part("vehicles", 120, [stretch(0, "17:30", 120), stretch(3, "08:00", 60, true)]), part("people", 600, [stretch(1, "17:31", 600)]), 0.5);
  const november = { ...history("wwwxwee", part("vehicles", 300, [stretch(2, "17:00", 300)]), part("people", 600, [stretch(6, "09:00", 400)]), 1), trueTogether: 1 };

  test("are one history over both: days and stretches follow, exposures and counts add, the longest pulse stays", () => {
    const both = joinedHistories(october, november);
    expect(both).toMatchObject({
      days: "wwwwweewwwxwee",
      trueTogether: 1,
      parts: [
        { longestSeconds: 300, stretches: [stretch(0, "17:30", 120), stretch(3, "08:00", 60, true), stretch(9, "17:00", 300)] },
        { longestSeconds: 600, stretches: [stretch(1, "17:31", 600), stretch(13, "09:00", 400)] },
      ],
    });
    expect(both.years).toBeCloseTo(13 / 365.25, 12);
    expect(both.homeShare).toBeCloseTo((7 * 0.5 + 6) / 13, 12);
  });

  test("have the bound of one history over both", () => {
    const both = joinedHistories(october, november);
    const one = history("wwwwweewwwxwee", both.parts[0], both.parts[1]);
    expect(timeOfDayBound(both, 0.95)).toBeCloseTo(timeOfDayBound(one, 0.95), 9);
  });

  test("of which neither was seen at all are at home for no share of the time", () => {
    const unseen = { ...october, years: 0, homeShare: 0 };
    expect(joinedHistories(unseen, unseen).homeShare).toBe(0);
  });
});
