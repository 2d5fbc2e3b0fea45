import { describe, expect, it } from "vitest";
import { MOMENT_AFTER_MS, MOMENT_BEFORE_MS, type LaneHistory } from "../../../src/judge/replay/excerpts.js";
import { judgeRule } from "../../../src/judge/judge.js";
import { MOST_EXCERPTS, MOST_SHOWN_MS, withExcerpts } from "../../../src/judge/fooled/near-miss-excerpts.js";
import type { NearMiss } from "../../../src/judge/fooled/near-misses.js";
import { accountsOf, allOf, bookOf, day, is, line, min, ruleOf, siteOf } from "../small-site.js";

const histories: LaneHistory[] = [
  { label: "phone", role: "signal", timeline: line("0 off, 300 ?, 320 off") },
  { label: "unlock on arrival", role: "rule", timeline: line("0 off") },
];
const near = (from: number, minutes: number, verified = true): NearMiss => ({ from: min(from), to: min(from + minutes), inTheWay: ["phone"], why: "", verified });
const shown = (misses: readonly NearMiss[]): number[] => withExcerpts(misses, histories).flatMap(({ from, excerpt }) => (excerpt === null ? [] : [from / min(1)]));

describe("excerpts of near misses", () => {
  it("show the lanes from before the stretch to after it, as those of firings do", () => {
    const [one] = withExcerpts([near(290, 60)], histories);
    expect(one?.excerpt).toEqual({
      from: min(290) - MOMENT_BEFORE_MS,
      to: min(350) + MOMENT_AFTER_MS,
      lanes: [
        { label: "phone", role: "signal", steps: [[min(275), "off"], [min(300), "unknown"], [min(320), "off"]] },
        { label: "unlock on arrival", role: "rule", steps: [[min(275), "off"]] },
      ],
    });
  });

  it("are cut to the period, and show only the beginning of a long stretch", () => {
    expect(withExcerpts([near(0, 5)], histories)[0]?.excerpt).toMatchObject({ from: 0 });
    expect(withExcerpts([near(1430, 10)], histories)[0]?.excerpt).toMatchObject({ to: day.to });
    expect(withExcerpts([near(100, 1000)], histories)[0]?.excerpt).toMatchObject({ to: min(100) + MOST_SHOWN_MS + MOMENT_AFTER_MS });
  });

  it("are kept of the worst: those vouched for, then the longest, then the first; all near misses stay, in their order", () => {
    const many = Array.from({ length: MOST_EXCERPTS + 4 }, (_, i) => near(i * 20, 5, false));
    expect(shown(many)).toEqual(many.slice(0, MOST_EXCERPTS).map(({ from }) => from / min(1)));
    const longLast = [...many, near(1000, 30, false)];
    expect(shown(longLast)).toEqual([...many.slice(0, MOST_EXCERPTS - 1).map(({ from }) => from / min(1)), 1000]);
    const vouchedLast = [...longLast, near(1100, 1, true)];
    expect(shown(vouchedLast)).toEqual([...many.slice(0, MOST_EXCERPTS - 2).map(({ from }) => from / min(1)), 1000, 1100]);
    expect(withExcerpts(vouchedLast, histories).map(({ from }) => from)).toEqual(vouchedLast.map(({ from }) => from));
  });

  it("hold what the signals said to the rule, what was so, and what the rule made of it", () => {
    const when = allOf(is("phone", 1), is("rail", 1));
    const site = siteOf({ subjects: { mira: "person", door: "door" }, signals: { phone: "mira", rail: "door" } });
    const judged = judgeRule(site, ruleOf(when, is("mira", 1)), accountsOf({ phone: "0 off", rail: "0 off, 100 on, 130 off" }), bookOf({ mira: { truth: "0 off", outside: "0 off" } }), day);
    expect(judged.margin.nearMisses).toMatchObject([
      {
        from: min(100),
        to: min(130),
        inTheWay: ["phone"],
        excerpt: {
          from: min(85),
          to: min(140),
          lanes: [
            { label: "phone", role: "signal", steps: [[min(85), "off"]] },
            { label: "rail", role: "signal", steps: [[min(85), "off"], [min(100), "on"], [min(130), "off"]] },
            { label: "mira", role: "reference", steps: [[min(85), "off"]] },
            { label: "the rule", role: "rule", steps: [[min(85), "off"]] },
          ],
        },
      },
    ]);
  });
});
