import { describe, expect, test } from "vitest";
import { confirmedTimeText, unverifiedText } from "../../../src/judge/verdict/confirmed-text.js";
import { inputOf, type Past } from "./past.js";

/** Many unverified firings, so that only the time in which any would have been confirmed says something. */
const timed = (past: Past): string => confirmedTimeText(inputOf({ unverified: 500, ...past }));
const hours = /with nothing confirmed .*(?= and with 500 unlocks that nobody confirmed counted as wrong,$)/;
const time = (past: Past): string => hours.exec(timed(past))?.[0] ?? "";
const without = (...hours: number[]): number[] => Array.from({ length: 24 }, (_, hour) => (hours.includes(hour) ? 0 : 30));

describe("the time in which a firing would have been confirmed", () => {
  test("is told in days or years, with the word confirmed before them", () => {
    expect(timed({ days: 31 })).toBe("in 31 confirmed days");
    expect(timed({ days: 31, confirmedDays: 20.9 })).toBe("in 20.9 confirmed days");
    expect(timed({ days: 2810 })).toBe("in 7.69 confirmed years");
  });

  test("is as short as the hour of the day that was covered least", () => {
    expect(timed({ days: 31, confirmedHours: [...new Array<number>(23).fill(31), 4] })).toBe("in 4 confirmed days");
  });

  test("names the hours that were never confirmed, each run of them once", () => {
    expect(time({ confirmedHours: without(3) })).toBe("with nothing confirmed from 03:00 to 04:00");
    expect(time({ confirmedHours: without(3, 4, 9) })).toBe("with nothing confirmed from 03:00 to 05:00 and from 09:00 to 10:00");
  });

  test("takes a run over midnight for one", () => {
    expect(time({ confirmedHours: without(22, 23, 0, 1) })).toBe("with nothing confirmed from 22:00 to 02:00");
    expect(time({ confirmedHours: without(23) })).toBe("with nothing confirmed from 23:00 to 00:00");
  });

  test("says so where no hour was ever confirmed", () => {
    expect(time({ confirmedDays: 0 })).toBe("with nothing confirmed at any hour");
  });
});

describe("the firings that were checked", () => {
  const text = (past: Past): string => confirmedTimeText(inputOf(past));
  const lists = (drawn: number, unverified: number): Past["checked"] => [{ firings: 60, drawn, wrongDrawn: 0, wrong: 0, unverified }];

  test("need no word where all were confirmed and there were none", () => {
    expect(text({ confirmedDays: 3 })).toBe("in 31 days");
  });

  test("show more than the hours in which any would have been confirmed, where all were", () => {
    expect(text({ right: 60, confirmedDays: 3, checked: lists(60, 0) })).toBe("in 31 days with every unlock confirmed");
  });

  test("show more where enough of them were drawn at random", () => {
    expect(text({ right: 40, unverified: 20, confirmedDays: 0, checked: lists(40, 20) })).toBe("in 31 days, with 40 of 60 unlocks drawn at random and confirmed,");
  });

  test("are taken as wrong where nobody confirmed them and no hour tells more", () => {
    expect(text({ act: "lock", right: 40, unverified: 1, confirmedDays: 3, checked: lists(0, 1) })).toBe("in 31 days, with 1 locking that nobody confirmed counted as wrong,");
  });
});

describe("firings that nobody could confirm", () => {
  const text = (past: Past): string => unverifiedText(inputOf(past));

  test("are not spoken of where there are none", () => {
    expect(text({})).toBe("");
  });

  test("count neither way where the hours explain them, by the name of the act", () => {
    expect(text({ unverified: 1 })).toBe("1 unlock could not be confirmed and counts neither for nor against.");
    expect(text({ unverified: 9, act: "lock" })).toBe("9 lockings could not be confirmed and count neither for nor against.");
  });

  test("are taken as wrong where the hours explain them less often than once in a hundred", () => {
    // None expected but for 0.15: two by chance in 1.02 %, for 0.148 in 0.994 %.
    const two = (firings: number): string => text({ unverified: 2, expectedUnverified: { firings, wanted: 0 } });
    expect(two(0.15)).toMatch(/neither for nor against/);
    expect(two(0.148)).toBe("2 unlocks could not be confirmed. The unconfirmed hours explain fewer, so they count as wrong.");
  });
});
