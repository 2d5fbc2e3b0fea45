import { describe, expect, it } from "vitest";
import { countsOf } from "../../../src/result/count-findings.js";
import { cumulated, sameRule } from "../../../src/compare/months/cumulate.js";
import { withMonths } from "../../../src/compare/months/with-months.js";
import type { Site } from "../../../src/site/site.js";
import { exampleFindings } from "../../report/example-findings.js";
import { DESIGN_COUNTING, type DesignHistory, type DesignRoad } from "../../../src/result/design.js";
import { history, part, stretch } from "../../judge/design/histories.js";
import { month, quietRule } from "./example-counts.js";
import type { RuleFinding } from "../../../src/result/rules.js";

const rule: RuleFinding = { ...exampleFindings.rules.find((one) => one.act === "lock")!, digest: quietRule.digest, name: quietRule.name };
const limits = { wrongPerYear: 2, missedShare: 0.1, withinMs: 900_000 };
// Only what the verdict looks at.
const site = { confidence: 0.95, limits: { lock: limits }, timeZone: "UTC" } as unknown as Site;
const until = Date.UTC(2026, 10, 1);
const now = countsOf({ ...exampleFindings, rules: [rule] }).rules[0]!;

describe("evidence over months", () => {
  it("adds up, and the bounds are those of the sums", () => {
    const earlier = Array.from({ length: 10 }, (_, i) => ({ label: `month ${i}`, counts: { ...quietRule, firings: { count: 40, right: 39, wrong: i === 3 ? 1 : 0, unverified: 0 }, covers: { ...quietRule.covers!, wrongOccasions: i === 3 ? [1] : [] } } }));
    const found = cumulated(rule, "now", now, earlier, site, until).cumulated!;
    expect(found.firings.wrong).toBe(1 + now.firings.wrong);
    expect(found.yearsSeen).toBeCloseTo(10 * 0.08 + now.yearsSeen, 12);
    expect(found.covers.days).toBe(10 * 30 + (now.covers?.days ?? 0));
    expect(found.covers.months).toEqual(["2026-01", "2026-10"]);
    expect(found.bounds.wrongUpper!).toBeLessThan(rule.bounds.wrongUpper! / 4);
    expect(found.wanted.count).toBe(400 + now.wanted.count);
    expect(found.periods.map((one) => one.label)).toEqual([...earlier.map((one) => one.label), "now"]);
  });

  it("clears a rule that a single month cannot clear, and keeps what the month alone would have said", () => {
    const alone: RuleFinding = { ...rule, verdict: "not proven yet", sentence: "Not proven yet: a month is short.", firings: { count: 40, right: 40, wrong: 0, unverified: 0 } };
    const counts = { ...now, firings: alone.firings, wanted: quietRule.wanted, yearsBlind: 0, yearsUnclear: 0, covers: quietRule.covers };
    const many = Array.from({ length: 30 }, (_, i) => ({ label: `month ${i}`, counts: { ...quietRule, yearsBlind: 0 } }));
    expect(cumulated(alone, "now", counts, many, site, until)).toMatchObject({ verdict: "clear to enable", cumulated: { periodAlone: { verdict: "not proven yet", sentence: "Not proven yet: a month is short." } } });
  });

  it("does not forget a bad month when the next is good", () => {
    const bad = { label: "bad", counts: { ...quietRule, firings: { count: 40, right: 30, wrong: 10, unverified: 0 }, covers: { ...quietRule.covers!, wrongOccasions: Array.from({ length: 10 }, () => 1) } } };
    const after = cumulated({ ...rule, verdict: "clear to enable" }, "now", { ...now, firings: { count: 9, right: 9, wrong: 0, unverified: 0 } }, [bad], site, until);
    expect(after.verdict).toBe("do not enable");
    expect(after.reasons.some((reason) => reason.code === "wrong-lower-bound" && reason.effect === "breaks")).toBe(true);
  });

  it("does not add up to one steady rate when all of it came in one of three periods", () => {
    const faults = Array.from({ length: 9 }, () => 1);
    const quiet = [1, 2, 3].map((i) => ({ label: `quiet ${i}`, counts: quietRule }));
    const bad = { ...quietRule, firings: { count: 40, right: 31, wrong: 9, unverified: 0 }, covers: { ...quietRule.covers!, wrongOccasions: faults } };
    const lenient = { ...site, limits: { lock: { ...limits, wrongPerYear: 500 } } } as Site;
    const after = cumulated(rule, "now", bad, quiet, lenient, until);
    expect(after.reasons.find((reason) => reason.code === "uneven-periods")).toMatchObject({ effect: "open", text: "Wrong lockings come in some periods and not in others (quiet 1: 0, quiet 2: 0, quiet 3: 0, now: 9), so their total says little about the next." });
  });

  it("of periods in which nothing was seen shows nothing: all of the time was deaf", () => {
    const unseen = { ...quietRule, yearsSeen: 0, yearsBlind: 0, yearsUnclear: 0, covers: { ...quietRule.covers!, confirmedHours: new Array<number>(24).fill(0) } };
    const found = cumulated(rule, "now", unseen, [{ label: "then", counts: unseen }], site, until);
    expect(found.cumulated).toMatchObject({ blindShare: 1, yearsSeen: 0, bounds: { wrongUpper: null } });
    expect(found.verdict).toBe("not proven yet");
  });

  it("keeps the doubt of a variant that was chosen among many on one of the periods", () => {
    const chosen = { label: "chosen", counts: { ...quietRule, covers: { ...quietRule.covers!, variants: 10 } } };
    expect(cumulated(rule, "now", now, [chosen], site, until).cumulated!.covers.variants).toBe(10);
  });

  it("starts anew when the rule was another one, and says so; a renamed rule is the same rule", () => {
    const other = month(2, { rule: { digest: "bbbbbbbbbbbbbbbb" } });
    const renamed = month(3, { rule: { name: "let us in" } });
    const found = sameRule(rule, [month(1), other, renamed, month(4)]);
    expect(found.periods.map((one) => one.label)).toEqual(["2026-03", "2026-04"]);
    expect(found.startedAnew).toBe('The rule “unlock on arrival” was different in 2026-02: its condition, its limits or a sensor it listens to has changed since. What was seen up to then is not counted.');
  });

  it("stands in the findings with the months it is made from, their gaps, and a series a signal", () => {
    const findings = { ...exampleFindings, rules: [{ ...rule, name: "lock when all have left" }] };
    const july = month(7, { rule: { name: "lock when all have left" } });
    const result = withMonths(findings, site, [july, month(9, { site: "Otter Cottage" })]);
    expect(result.months!.earlier.map((one) => one.label)).toEqual(["2026-07"]);
    expect(result.months!.gaps).toEqual([{ from: Date.parse("2026-07-31T00:00:00.000Z"), to: exampleFindings.period.from }]);
    expect(result.months!.series.map((row) => row.points.length)).toEqual(exampleFindings.signals.map(() => 2));
    expect(result.rules[0]!.cumulated!.periods.map((one) => one.label)).toEqual(["2026-07", "2026-10"]);
    expect(result.rules[0]!.firings).toEqual(rule.firings);
  });
});

describe("the road of design over months", () => {
  const seen = history(31, part("vehicles", 60, []), part("people", 60, []));
  const own: DesignRoad = { conditions: [], commonShare: 0.01, commonShareBecause: "no common power", noSharedHoursBecause: null, tests: [], history: seen, figures: null };
  const opens: RuleFinding = { ...rule, act: "unlock", singlePoints: { signals: [], causes: [] }, reasons: [], design: own };
  const door = { ...site, limits: { unlock: limits } } as Site;
  const covers = (name: string) => ({ ...quietRule.covers!, months: [name] });
  const past = (count: number, design: DesignHistory | null = seen) =>
    Array.from({ length: count }, (_, i) => ({ label: `month ${i}`, counts: { ...quietRule, yearsBlind: 0, covers: covers(`2025-${String(i + 1).padStart(2, "0")}`), design } }));
  const last = { ...quietRule, yearsBlind: 0, covers: covers("2026-10") };
  const over = (earlier: ReturnType<typeof past>, change: Partial<RuleFinding> = {}) => cumulated({ ...opens, ...change }, "now", last, earlier, door, until);

  it("adds days and months, and the bound is that of their sum", () => {
    const [some, more] = [over(past(3)).cumulated!.design!, over(past(11)).cumulated!.design!];
    expect(some).toMatchObject({ days: 4 * 31, months: 4 });
    expect(more).toMatchObject({ days: 12 * 31, months: 12 });
    expect(more.bound!).toBeLessThan(some.bound! / 2);
  });

  it("clears a rule that counting alone leaves open", () => {
    expect(over(past(11, null)).verdict).toBe("not proven yet");
    const found = over(past(11));
    expect(found.verdict).toBe("clear to enable");
    expect(found.sentence).toMatch(/^Clear to enable by design: /);
    expect(found.reasons.find(({ code }) => code === "wrong-upper-bound")?.effect).toBe("noted");
  });

  it("leaves out months whose parts were worked out in another way, and all before them", () => {
    const mixed = past(8).map((one, i) => (i === 4 ? { ...one, counts: { ...one.counts, design: { ...seen, counting: DESIGN_COUNTING - 1 } } } : one));
    expect(over(mixed).cumulated!.design).toMatchObject({ days: 4 * 31, months: 4 });
    const others = past(8).map((one, i) => (i === 6 ? { ...one, counts: { ...one.counts, design: history(31, { ...seen.parts[0], signals: ["another"] }, seen.parts[1]) } } : one));
    expect(over(others).cumulated!.design).toMatchObject({ days: 2 * 31, months: 2 });
  });

  it.each<[string, Partial<RuleFinding>]>([
    ["a single point", { singlePoints: { signals: ["phone"], causes: [] } }],
    ["a cover that is too short", { design: { ...own, conditions: [{ code: "cover", holds: false, text: "It ends too soon." }] } }],
    ["a test that reached both parts", { design: { ...own, conditions: [{ code: "tests", holds: false, text: "It reached both." }] } }],
    ["a month of true events in both parts", { design: { ...own, history: { ...seen, trueTogether: 1 } } }],
    ["parts that stirred too often", { design: { ...own, history: history(31, part("vehicles", 60, Array.from({ length: 31 }, (_, day) => stretch(day, "09:00", 60))), part("people", 60, Array.from({ length: 31 }, (_, day) => stretch(day, "09:10", 60)))) } }],
  ])("is closed by %s", (_, change) => {
    expect(over(past(11), change).verdict).not.toBe("clear to enable");
  });
});
