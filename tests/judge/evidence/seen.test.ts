import { localDays } from "../../../src/judge/evidence/local-days.js";
import { describe, expect, it } from "vitest";
import { seenOf, seenTimeline } from "../../../src/judge/evidence/seen.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { ON, UNKNOWN } from "../../../src/timeline/timeline.js";
import { accountsOf, anyOf, bookOf, is, line, min, over, ruleOf, siteOf, turned } from "../small-site.js";

const DAY = min(24 * 60);
const site = siteOf({ subjects: { mira: "person" } });
const book = bookOf({ mira: { truth: "0 off" } });

describe("time in which a rule was seen", () => {
  it("is only that in which every way of firing could be heard, though the other way settles the condition", () => {
    const rule = ruleOf(anyOf(is("phone-mira", 1), is("phone-tom", 1)), is("mira", 1));
    const heard = over(site, rule, accountsOf({ "phone-mira": "0 on", "phone-tom": "0 off, 100 ?, 400 off" }), book);
    expect(heard.replayed.condition).toEqual(line("0 on"));
    expect(seenTimeline(heard)).toEqual(line("0 on, 100 off, 400 on"));
  });

  it("leaves out the look back of a turn that may have gone unseen", () => {
    const rule = ruleOf(turned("phone-mira", 1, 10), is("mira", 1));
    expect(seenTimeline(over(site, rule, accountsOf({ "phone-mira": "0 off, 100 ?, 120 off" }), book))).toEqual(line("0 off, 10 on, 100 off, 130 on"));
  });

  it("is counted in local days of which half was seen, by weekday and month", () => {
    // 2026-10-31 is a Saturday in London, still in winter time; the period begins on it.
    const from = Date.UTC(2026, 9, 31);
    const seen = timelineOf(from, from + 4 * DAY, [[from, ON], [from + 2.4 * DAY, UNKNOWN]]);
    const found = seenOf(seen, [from + min(5), from + min(9), from + 2 * DAY + min(1)], localDays({ from: seen.start, to: seen.end }, "Europe/London"));
    expect(found).toEqual({ ms: 2.4 * DAY, days: 2, months: ["2026-10", "2026-11"], weekdays: [0, 0, 0, 0, 0, 1, 1], eventsByDay: [2, 1] });
  });

  it("counts a day of which exactly half was seen", () => {
    const from = Date.UTC(2026, 10, 2);
    const days = (share: number): number => seenOf(timelineOf(from, from + DAY, [[from, ON], [from + share * DAY, UNKNOWN]]), [], localDays({ from, to: from + DAY }, "Europe/London")).days;
    expect([days(0.5), days(0.49)]).toEqual([1, 0]);
  });
});
