import { describe, expect, test } from "vitest";
import { coverOf, type CoverCheck } from "../../../src/judge/design/cover.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import type { Expression } from "../../../src/site/expression.js";
import { allOf, anyOf, is, min, ruleOf, siteOf, turned } from "../small-site.js";

const site = siteOf({ subjects: { "bay-1": "bay", mira: "person", tom: "person" }, signals: { wall: "bay-1", phone: "mira" } });
const arrival = allOf(turned("wall", 1, 2), turned("phone", 1, 10));

/** The phone tells up to five minutes late. */
const lags = new Map([["wall", { leastMs: 0, mostMs: min(1) }], ["phone", { leastMs: 0, mostMs: min(5) }]]);
const cover = (rightWhen: Expression, when = arrival, known: Parameters<typeof coverOf>[1] = lags): CoverCheck => coverOf(prepareRule(site, ruleOf(when, rightWhen)), known);

describe("right_when lasts long enough", () => {
  test("from the rule's longest window and its sensors' largest lag on", () => {
    expect(cover(turned("mira", 1, 15))).toMatchObject({ holds: true, neededMs: min(15) });
    expect(cover(turned("mira", 1, 14.9))).toMatchObject({ holds: false, neededMs: min(15) });
  });

  test("only if each of its windows does", () => {
    expect(cover(anyOf(turned("mira", 1, 20), turned("tom", 1, 3))).holds).toBe(false);
    expect(cover(anyOf(turned("mira", 1, 20), is("tom", 1, { recentlyMs: min(3) }))).holds).toBe(false);
  });

  test("where it only asks for states: those end with what they describe", () => {
    expect(cover(is("mira", 1)).holds).toBe(true);
  });

  test("for less where no lag is known: how it is measured is a condition of its own", () => {
    expect(cover(turned("mira", 1, 10), arrival, new Map()).holds).toBe(true);
  });

  test("for the rule's states too that look back", () => {
    const when = allOf(turned("wall", 1, 2), is("phone", 1, { recentlyMs: min(12) }));
    expect(cover(turned("mira", 1, 15), when)).toMatchObject({ holds: false, neededMs: min(17), line: "within: 20 min" });
  });
});

test("where it does not, the text gives the line that mends it, and what that line means", () => {
  expect(cover(turned("mira", 1, 3)).text).toBe(
    "right_when ends 3 min after an arrival; the rule's own windows last 10 min, and its sensors are up to 5 min late. " +
      'In between, one false report is enough. For a proof by design, write “within: 15 min” in right_when: an unlock that late after a real arrival then counts as right.',
  );
});

test("the line that mends it is in steps of five minutes, never less than what is needed", () => {
  const late = new Map([["phone", { leastMs: 0, mostMs: min(5.2) }]]);
  expect(cover(turned("mira", 1, 3), arrival, late).text).toContain('write “within: 20 min”');
});
