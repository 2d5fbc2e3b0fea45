import { localDays } from "../../../src/judge/evidence/local-days.js";
import { describe, expect, test } from "vitest";
import { coveredYears, expectedUnverified, verifiableTime } from "../../../src/judge/evidence/verifiable.js";
import { seenTimeline } from "../../../src/judge/evidence/seen.js";
import type { RuleOverHistory } from "../../../src/judge/replay/replay.js";
import type { Act } from "../../../src/site/site.js";
import type { Interval } from "../../../src/ground/intervals.js";
import { HOUR_MS, YEAR_MS } from "../../../src/ground/units.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { OFF, ON, type Timeline } from "../../../src/timeline/timeline.js";
import { accountsOf, bookOf, day, is, line, min, over, ruleOf, siteOf, type Told } from "../small-site.js";

const utc = { ...siteOf({ subjects: { mira: "person" } }), timeZone: "UTC" };

function rule(outside: string | Timeline, more: { readonly phone?: string; readonly act?: Act; readonly period?: Interval; readonly zone?: string } = {}): RuleOverHistory {
  const period = more.period ?? day;
  const truth: Told = { truth: "0 off", outside };
  const flat = (): Timeline => timelineOf(period.from, period.to, [[period.from, OFF]]);
  const phone = more.phone === undefined ? flat() : line(more.phone, period);
  return over({ ...utc, timeZone: more.zone ?? "UTC" }, ruleOf(is("phone", 1), is("mira", 1), { act: more.act ?? "lock" }), accountsOf({ phone }, [], period), bookOf({ mira: { ...truth, truth: flat() } }, period), period);
}

const verifiable = (heard: RuleOverHistory) => verifiableTime(heard, seenTimeline(heard), daysOf(heard));
const daysOf = ({ history, site }: RuleOverHistory) => localDays(history.period, site.timeZone);
const hours = (heard: RuleOverHistory): number[] => verifiable(heard).byHourMs.map((ms) => ms / HOUR_MS);

describe("the time in which a firing would have been confirmed", () => {
  test("is told by hour of the day", () => {
    // Known from 01:00 to 02:30 and from 23:00 on.
    expect(hours(rule("0 ?, 60 off, 150 ?, 1380 on"))).toEqual([0, 1, 0.5, ...new Array<number>(20).fill(0), 1]);
  });

  test("is where the rule could be heard as well", () => {
    expect(hours(rule("0 ?, 60 off, 150 ?", { phone: "0 off, 90 ?, 130 off" })).slice(0, 4)).toEqual([0, 0.5, 1 / 3, 0]);
  });

  test("goes on where what others tell changes from wrong to right", () => {
    expect(hours(rule("0 ?, 60 off, 90 on, 120 ?")).slice(0, 3)).toEqual([0, 1, 0]);
  });

  test("ends before it is unknown again by as long as an unlock may be early, and only once for neighbouring stretches", () => {
    const early = rule("0 ?, 60 off, 90 on, 120 ?", { act: "unlock" });
    expect(early.tolerance.earlyMs).toBeGreaterThan(0);
    expect(verifiable(early).byHourMs[1]).toBe(HOUR_MS - early.tolerance.earlyMs);
  });
});

describe("by the local clock", () => {
  const whole = (from: string, to: string): number[] => {
    const period = { from: Date.parse(from), to: Date.parse(to) };
    return hours(rule(timelineOf(period.from, period.to, [[period.from, ON]]), { period, zone: "Europe/London" }));
  };

  test("a day of 23 hours ends with an hour less", () => {
    const found = whole("2026-03-29T00:00:00Z", "2026-03-29T23:00:00Z");
    expect(found).toEqual([...new Array<number>(23).fill(1), 0]);
  });

  test("a day of 25 hours ends with an hour more", () => {
    expect(whole("2026-10-24T23:00:00Z", "2026-10-26T00:00:00Z")).toEqual([...new Array<number>(23).fill(1), 2]);
  });

  test("a period that begins within a day counts its hours from that day's midnight", () => {
    const found = whole("2026-06-01T05:30:00Z", "2026-06-01T07:00:00Z");
    expect([found[6], found[7], found[8]]).toEqual([0.5, 1, 0]);
  });
});

describe("years in which a firing at any hour would have been confirmed", () => {
  test("are 24 times the hour that was covered least", () => {
    const covered = new Array<number>(24).fill(30 * HOUR_MS);
    expect(coveredYears(covered)).toBeCloseTo(30 / 365.25, 12);
    covered[17] = 12 * HOUR_MS;
    expect(coveredYears(covered)).toBeCloseTo(12 / 365.25, 12);
    expect(coveredYears(covered) * YEAR_MS).toBeCloseTo(24 * 12 * HOUR_MS, 3);
  });

  test("are none when one hour was never covered, or nothing is known of the hours", () => {
    expect(coveredYears([...new Array<number>(23).fill(30 * HOUR_MS), 0])).toBe(0);
    expect(coveredYears([])).toBe(0);
  });
});

describe("how many instants nobody could be expected to confirm", () => {
  const half = rule("0 ?, 60 off, 90 ?, 120 off, 180 ?");
  const expected = (...minutes: number[]): number => expectedUnverified(minutes.map(min), verifiable(half), daysOf(half));

  test("adds up the share of each one's hour in which nobody could tell", () => {
    expect(expected(70)).toBeCloseTo(0.5, 12);
    expect(expected(130)).toBe(0);
    expect(expected(10)).toBe(1);
    expect(expected(70, 100, 130, 10, 1000)).toBeCloseTo(3, 12);
  });

  test("takes the share of the time in which the rule was heard", () => {
    const heard = rule("0 ?, 60 off, 90 ?", { phone: "0 off, 90 ?, 120 off" });
    expect(expectedUnverified([min(70)], verifiable(heard), daysOf(heard))).toBe(0);
  });
});
