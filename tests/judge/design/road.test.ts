import { describe, expect, test } from "vitest";
import { designFigures, designRoad, withConfirmed, gapCondition, failedConditions, USUAL_COMMON_SHARE, type DesignContext } from "../../../src/judge/design/road.js";
import { commonCauseBound, evenBound, timeOfDayBound } from "../../../src/judge/design/bounds.js";
import type { GapFinding } from "../../../src/result/gap.js";
import type { DesignFigures, DesignHistory, DesignRoad } from "../../../src/result/design.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { nothingStated } from "../../../src/site/stated.js";
import { accountsOf, allOf, bookOf, is, min, over, ruleOf, siteOf, turned } from "../small-site.js";
import { history, part, stretch } from "./histories.js";

const quiet = history(90, part("vehicles", 120, []), part("people", 600, []));
const stated = { commonShare: 0.1, noSharedHoursBecause: null };
const confirmed = { wrong: 0, unconfirmed: 0, years: 0.25, leastShare: 1 };

function figures(seen: DesignHistory, more: Partial<{ months: number; wrong: number; unconfirmed: number; leastShare: number; share: number; limit: number | null; noSharedHours: string }> = {}): DesignFigures {
  const road = { commonShare: more.share ?? 0.1, noSharedHoursBecause: more.noSharedHours ?? null };
  return designFigures(seen, road, more.months ?? 3, { ...confirmed, wrong: more.wrong ?? 0, unconfirmed: more.unconfirmed ?? 0, leastShare: more.leastShare ?? 1 }, { confidence: 0.95, limitPerYear: more.limit === undefined ? 0.5 : more.limit });
}

const open = (found: Pick<DesignRoad, "conditions">): string[] => found.conditions.filter((one) => !one.holds).map((one) => one.code);

describe("the bound", () => {
  test("is what chance and a common cause allow together, with two thirds and one third of the permitted error", () => {
    const { bound, byChance, byCommonCause } = figures(quiet);
    expect(byChance).toBeCloseTo(timeOfDayBound(quiet, 1 - 0.1 / 3), 9);
    expect(byCommonCause).toBeCloseTo(commonCauseBound(quiet, 0.1, 1 - 0.05 / 3), 9);
    expect(bound).toBeCloseTo(byChance! + byCommonCause!, 9);
  });

  test("may leave shared hours out only where somebody stated why", () => {
    const { byChance } = figures(quiet, { noSharedHours: "the sun blinds the meters, the router fails at night" });
    expect(byChance).toBeCloseTo(evenBound(quiet, 1 - 0.1 / 3), 9);
    expect(byChance!).toBeLessThan(figures(quiet).byChance!);
  });

  test("breaks even at the share of the rarer false reports that fills the rest of the limit", () => {
    const { breakEven, byChance } = figures(quiet, { limit: 2 });
    expect(figures(quiet, { limit: 2, share: breakEven! }).bound).toBeCloseTo(2, 9);
    expect(figures(quiet, { limit: byChance! }).breakEven).toBeNull();
    expect(figures(quiet, { limit: null }).breakEven).toBeNull();
    expect(figures(quiet, { limit: 1000 }).breakEven).toBe(1);
  });

  test("names the part whose false reports are the rarer ones, over all months", () => {
    const on = (...days: number[]) => days.map((day) => stretch(day, "09:00", 60));
    expect(figures(history(90, part("vehicles", 120, on(3)), part("people", 600, on(1, 2)))).rarer).toBe("vehicles");
    expect(figures(history(90, part("vehicles", 120, on(3, 4, 5)), part("people", 600, on(1, 2)))).rarer).toBe("people");
    expect(figures(quiet).rarer).toBeNull();
  });

  test("is unknown where nothing was seen", () => {
    expect(figures(history("xxx", quiet.parts[0], quiet.parts[1]))).toMatchObject({ bound: null, byChance: null, breakEven: null, days: 0 });
  });
});

describe("conditions of its history", () => {
  test("all hold over three quiet months", () => {
    expect(open(figures(quiet))).toEqual([]);
  });

  test("ask for three months and 84 days: shared bad days are only seen in time", () => {
    expect(open(figures(quiet, { months: 2 }))).toEqual(["months"]);
    const days = (count: number): string[] => open(figures(history(count, quiet.parts[0], quiet.parts[1])));
    expect(days(84)).toEqual([]);
    expect(days(83)).toEqual(["months"]);
    expect(open(figures(history("w".repeat(83) + "x".repeat(20), quiet.parts[0], quiet.parts[1])))).toEqual(["months"]);
  });

  test("fail where both have the same bad days", () => {
    const bad = Array.from({ length: 12 }, (_, week) => week * 7);
    const on = (hour: string) => bad.flatMap((day) => [stretch(day, `${hour}:00`, 60), stretch(day, `${hour}:30`, 60)]);
    expect(open(figures(history(90, part("vehicles", 120, on("09")), part("people", 600, on("18")))))).toEqual(["shared-days"]);
  });

  test("fail where true events moved both parts while firing would have been wrong", () => {
    const found = figures({ ...quiet, trueTogether: 2 });
    expect(open(found)).toEqual(["true-together"]);
    expect(failedConditions({ conditions: [] }, found)[0]?.text).toBe("Real events set off both parts together twice while acting would have been wrong.");
  });

  test("fail where more wrong firings were confirmed than the bound explains", () => {
    expect(open(figures(quiet, { wrong: 40 }))).toEqual(["contradicted", "wrong-together"]);
    // About 0.7 within a quarter of a year is what the bound allows.
    expect(figures(quiet).bound! * confirmed.years).toBeLessThan(1.5);
    expect(open(figures(quiet, { wrong: 1 }))).toEqual([]);
  });

  test("fail where both were wrong together more often than their own days explain, though the bound has room", () => {
    const often = (at: string, seconds: number) => Array.from({ length: 90 }, (_, day) => stretch(day, at, seconds));
    // An hour of each every day, half an hour of it shared by the clock: chance alone would make both wrong together each day.
    const busy = history(90, part("vehicles", 120, often("09:00", 3600)), part("people", 600, often("09:30", 3600)));
    const seen = { ...busy, parts: [busy.parts[0], { ...busy.parts[1], stretches: busy.parts[1].stretches.slice(0, 2) }] } as DesignHistory;
    expect(seen.parts[1].stretches.length).toBe(2);
    const found = figures(seen, { wrong: 9 });
    expect(found.slid! * 0.25).toBeLessThan(3);
    expect(found.bound! * 0.25).toBeGreaterThan(9);
    expect(open(found)).toContain("wrong-together");
    expect(open(found)).not.toContain("contradicted");
    expect(failedConditions({ conditions: [] }, found).find(({ code }) => code === "wrong-together")?.text).toMatch(/^Both parts were wrong together 9 times, where chance alone explains about 2/u);
    expect(open(figures(busy, { wrong: 9 }))).not.toContain("wrong-together");
  });
});

describe("what nobody could confirm", () => {
  test("closes the road where it would be more than the bound explains, were it wrong", () => {
    expect(open(figures(quiet, { unconfirmed: 1 }))).toEqual([]);
    const found = figures(quiet, { unconfirmed: 26 });
    expect(open(found)).toEqual(["unconfirmed"]);
    expect(failedConditions({ conditions: [] }, found)[0]?.text).toContain("Nobody could confirm 26 firings, more than the hours in which nobody can tell explain.");
  });

  test("is added to what was confirmed as wrong", () => {
    const each = 2;
    expect(open(figures(quiet, { wrong: each }))).toEqual(["wrong-together"]);
    expect(open(figures(quiet, { wrong: each, unconfirmed: each }))).toEqual(["wrong-together", "unconfirmed"]);
  });

  test("is told from nothing where nobody could tell for half of the time at some hour of the day", () => {
    expect(open(figures(quiet, { leastShare: 0.5 }))).toEqual([]);
    expect(open(figures(quiet, { leastShare: 0.49 }))).toEqual(["unconfirmed"]);
  });

  test("is judged anew when outcomes change, and nothing else is", () => {
    const before = figures(quiet, { unconfirmed: 26 });
    expect(withConfirmed(before, confirmed)).toEqual(figures(quiet));
  });
});

const noGap: GapFinding = { searched: true, why: null, scene: null, freeUntil: [{ kind: "phone", signals: ["phone"], seconds: 300, measuredSeconds: 45.2, ends: "gap" }] };

describe("a gap in the rule itself", () => {
  const text = (gap: GapFinding): string => gapCondition(gap).text;

  test("is none up to a lag that stands beside the measured one", () => {
    expect(text(noGap)).toBe("It cannot act wrongly while every sensor tells the truth, as long as none is later than this: phone at most 5 min late (measured: up to 46 s).");
  });

  test("closes the road, with the scene", () => {
    const gap = { ...noGap, scene: { text: "A vehicle drives in.", changes: 1, widthSeconds: null, perYear: null } };
    expect(gapCondition(gap)).toEqual({ code: "gap", holds: false, text: "Even while every sensor tells the truth it can act wrongly: A vehicle drives in." });
  });

  test("closes it too where it was not searched", () => {
    expect(gapCondition({ searched: false, why: "Too large.", scene: null, freeUntil: [] })).toEqual({ code: "gap", holds: false, text: "Too large." });
  });
});

describe("conditions of the rule", () => {
  const site = { ...siteOf({ subjects: { "bay-1": "bay", mira: "person" }, signals: { wall: "bay-1", phone: "mira" } }), timeZone: "UTC" };
  const when = allOf(turned("wall", 1, 2), turned("phone", 1, 10));
  const lags = new Map([["wall", { leastMs: 0, mostMs: min(1) }], ["phone", { leastMs: 0, mostMs: min(3) }]]);
  const accounts = accountsOf({ wall: "0 on, 100 off, 200 on", phone: "0 on, 100 off, 201 on" });
  const road = (more: Partial<DesignContext> = {}, rule: Partial<RuleSpec> = {}, act: RuleSpec["act"] = "unlock", gap: GapFinding = noGap) =>
    designRoad(
      over(site, ruleOf(when, turned("mira", 1, 20), { act, ...rule }), accounts, bookOf({ "bay-1": { truth: "0 on" }, mira: { truth: "0 on", outside: "0 on", basis: "diary" } })),
      { lags, seen: [], tests: [], ...more },
      gap,
    );

  test("hold for two parts with known lags under a cover that is long enough", () => {
    expect(road().conditions.map(({ code, holds }) => [code, holds])).toEqual([["parts", true], ["lags", true], ["cover", true], ["gap", true]]);
    expect(road().history?.parts.map(({ stretches }) => stretches.length)).toEqual([1, 1]);
  });

  test("fail for a lag that was never measured", () => {
    const found = road({ lags: new Map([["wall", { leastMs: 0, mostMs: 0 }]]) });
    expect(open(found)).toEqual(["lags"]);
    expect(found.conditions.find(({ code }) => code === "lags")?.text).toBe("How late phone reports was not measured: too few arrivals were seen.");
  });

  test("fail where right_when ends too soon", () => {
    expect(open(road({}, { rightWhen: turned("mira", 1, 12) }))).toEqual(["cover"]);
  });

  test("fail where a test on purpose reached both parts, and that time is left out", () => {
    const found = road({ tests: [{ cause: "power", from: min(199), to: min(202) }] });
    expect(open(found)).toEqual(["tests"]);
    expect(found.tests).toMatchObject([{ cause: "power", made: 1, reachedBoth: 1 }]);
    expect(found.history?.parts.map(({ stretches }) => stretches.length)).toEqual([0, 0]);
    expect(found.conditions.at(-1)?.text).toBe("In 1 of 1 test a failure of power made both parts report falsely.");
  });

  test("hold where a test on purpose reached one part only, and the text says how much that shows", () => {
    const found = road({ tests: [{ cause: "power", from: min(600), to: min(601) }] });
    expect(found.conditions.at(-1)).toMatchObject({ code: "tests", holds: true, text: "power failed on purpose once, and never made both parts report falsely: at most 95 % of its failures do." });
  });

  test("leave a rule without two parts at that, with no history", () => {
    const found = road({ seen: [["wall", "phone"]] });
    expect(found).toMatchObject({ history: null, conditions: [{ code: "parts", holds: false }] });
  });

  test("keep what the site file states, or take a tenth where it states nothing", () => {
    expect(road()).toMatchObject({ commonShare: USUAL_COMMON_SHARE, commonShareBecause: null, noSharedHoursBecause: null });
    const told = { ...nothingStated, commonCause: { atMostShare: 0.02, because: "no common power" }, noSharedHours: { because: "sun and night" } };
    expect(road({}, { stated: told })).toMatchObject({ commonShare: 0.02, commonShareBecause: "no common power", noSharedHoursBecause: "sun and night" });
  });
});

describe("a lock rule", () => {
  test("is not cleared this way: that all are away stays true for hours", () => {
    const site = siteOf({ subjects: { "bay-1": "bay", mira: "person" }, signals: { wall: "bay-1", phone: "mira" } });
    const shut = over(site, ruleOf(allOf(is("wall", 0), is("phone", 0)), is("mira", 0), { act: "lock" }), accountsOf({ wall: "0 on", phone: "0 on" }), bookOf({ mira: { truth: "0 on" }, "bay-1": { truth: "0 on" } }));
    expect(open(designRoad(shut, { lags: new Map(), seen: [], tests: [] }, noGap))).toEqual(["parts"]);
  });
});

test("one that states a smaller common share is bounded lower, and no other figure moves", () => {
  const [usual, less] = [figures(quiet, { share: stated.commonShare }), figures(quiet, { share: 0.02 })];
  expect(less.byCommonCause).toBeCloseTo(usual.byCommonCause! / 5, 9);
  expect({ ...less, bound: 0, byCommonCause: 0 }).toEqual({ ...usual, bound: 0, byCommonCause: 0 });
});
