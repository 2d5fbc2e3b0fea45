import { describe, expect, test } from "vitest";
import { splitRule, type Split } from "../../../src/judge/design/parts.js";
import { prepareRule } from "../../../src/judge/rule/prepare.js";
import type { Expression } from "../../../src/site/expression.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { nothingStated } from "../../../src/site/stated.js";
import { allOf, anyOf, is, min, no, quorum, ruleOf, siteOf, turned } from "../small-site.js";

const signals = { wall: "bay-1", roof: "bay-2", phone: "mira", watch: "tom", rail: "gate" };

function split(when: Expression, more: { readonly rule?: Partial<RuleSpec>; readonly shares?: Readonly<Record<string, readonly string[]>>; readonly seen?: readonly (readonly [string, string])[] } = {}): Split {
  const site = siteOf({ subjects: { "bay-1": "bay", "bay-2": "bay", mira: "person", tom: "person", gate: "door" }, signals, ...(more.shares === undefined ? {} : { shares: more.shares }) });
  return splitRule(prepareRule(site, ruleOf(when, is("mira", 1), more.rule)), more.seen ?? []);
}

const why = (found: Split): string => ("why" in found ? found.why : "it has two parts");
const parts = (found: Split) => ("why" in found ? [] : found.parts.map(({ name, signals, condition, longestMs }) => ({ name, signals, condition, minutes: longestMs / min(1) })));

const arrival = allOf(turned("wall", 1, 2), turned("phone", 1, 10));

describe("a rule has two parts", () => {
  test("where it needs a report about a vehicle and one about a person, each for as long as its window", () => {
    expect(parts(split(arrival))).toEqual([
      { name: "vehicles", signals: ["wall"], condition: turned("wall", 1, 2), minutes: 2 },
      { name: "people", signals: ["phone"], condition: turned("phone", 1, 10), minutes: 10 },
    ]);
  });

  test("of which each holds all alternatives of its kind, and lasts as long as the longest of them", () => {
    const when = allOf(anyOf(turned("wall", 1, 2), turned("roof", 1, 3)), anyOf(turned("phone", 1, 10), turned("watch", 1, 5)));
    expect(parts(split(when)).map(({ signals: heard, minutes }) => [heard, minutes])).toEqual([[["roof", "wall"], 3], [["phone", "watch"], 10]]);
  });

  test("that leave doors out, whatever the rule asks of them", () => {
    expect(parts(split(allOf(arrival, is("rail", 0))))).toEqual(parts(split(arrival)));
    expect(parts(split(allOf(arrival, turned("rail", 1, 40))))).toEqual(parts(split(arrival)));
  });

  test("that end with the first of their reports where all of them are needed", () => {
    const when = allOf(turned("wall", 1, 2), is("roof", 1), turned("phone", 1, 10));
    expect(parts(split(when))[0]).toMatchObject({ signals: ["roof", "wall"], minutes: 2 });
  });

  test("of at least 2 of 4, with the vehicles and the people each asked for what the others cannot give", () => {
    // Two of {wall, roof, watch} and the phone: with both vehicles taken as true nobody else is needed but the phone.
    const when = allOf(turned("phone", 1, 10), quorum(3, turned("wall", 1, 2), turned("roof", 1, 3), turned("watch", 1, 20)));
    expect(parts(split(when))).toEqual([
      { name: "vehicles", signals: ["roof", "wall"], condition: allOf(turned("wall", 1, 2), turned("roof", 1, 3)), minutes: 2 },
      { name: "people", signals: ["phone", "watch"], condition: allOf(turned("phone", 1, 10), turned("watch", 1, 20)), minutes: 10 },
    ]);
  });

  test("of at least 2 of 3 vehicles, which last until the second longest of them ends", () => {
    const when = allOf(turned("phone", 1, 10), quorum(2, turned("wall", 1, 2), turned("roof", 1, 3), turned("wall", 0, 7)));
    expect(parts(split(when))[0]).toMatchObject({ signals: ["roof", "wall"], minutes: 3 });
  });

  test("with what is denied as a denial", () => {
    const when = allOf(turned("wall", 1, 2), turned("phone", 1, 10), no(turned("watch", 0, 30)));
    expect(parts(split(when))[1]).toEqual({ name: "people", signals: ["phone", "watch"], condition: allOf(turned("phone", 1, 10), no(turned("watch", 0, 30))), minutes: 10 });
  });
});

describe("a rule has no two parts", () => {
  test("where it can act without any report about a person, or about a vehicle", () => {
    const alone = (missing: string): string => `It can act without any report about a ${missing}, so no second, independent fault is needed.`;
    expect(why(split(allOf(turned("wall", 1, 2), is("rail", 0))))).toBe(alone("person"));
    expect(why(split(turned("phone", 1, 10)))).toBe(alone("vehicle"));
    expect(why(split(anyOf(arrival, turned("watch", 1, 5))))).toBe(alone("vehicle"));
    expect(why(split(quorum(2, turned("wall", 1, 2), turned("phone", 1, 10), turned("watch", 1, 5))))).toBe(alone("vehicle"));
  });

  test("where a declared cause is shared by both", () => {
    expect(why(split(arrival, { shares: { wall: ["hub"], phone: ["hub"] } }))).toBe("wall and phone both depend on hub: one fault can make both wrong.");
    expect(parts(split(arrival, { shares: { wall: ["hub"], watch: ["hub"] } }))).toHaveLength(2);
  });

  test("where two signals of them were found to go wrong together", () => {
    expect(why(split(arrival, { seen: [["phone", "wall"]] }))).toBe("wall and phone were found to go wrong together.");
    expect(parts(split(arrival, { seen: [["phone", "watch"]] }))).toHaveLength(2);
  });

  test("where the site file takes signals of both as one part", () => {
    const stated = (...one: string[]): Partial<RuleSpec> => ({ stated: { ...nothingStated, oneParts: [one] } });
    expect(why(split(arrival, { rule: stated("wall", "phone") }))).toBe("The site file takes wall and phone as one part.");
    expect(parts(split(arrival, { rule: stated("wall", "roof") }))).toHaveLength(2);
  });

  test("where one of them can stay true for hours, as in a rule that locks when all are away", () => {
    const lock = allOf(is("wall", 0), is("phone", 0));
    expect(why(split(lock, { rule: { act: "lock" } }))).toBe("Its condition about vehicles can stay true for hours, so how often it starts says little about how often both are true at once.");
    expect(why(split(allOf(turned("wall", 0, 5), no(turned("phone", 1, 10)))))).toMatch(/^Its condition about people can stay true for hours/);
  });

  test("where their windows are longer than an hour in all", () => {
    expect(why(split(allOf(turned("wall", 1, 20), turned("phone", 1, 41))))).toBe("Its windows add up to more than an hour, too long for this calculation.");
    expect(parts(split(allOf(turned("wall", 1, 20), turned("phone", 1, 40))))).toHaveLength(2);
  });
});

test("stated parts that overlap are one part: two lists that share a signal connect their ends", () => {
  const oneParts = [["wall", "rail"], ["rail", "phone"]];
  expect(why(split(allOf(arrival, is("rail", 0)), { rule: { stated: { ...nothingStated, oneParts } } }))).toBe("The site file takes wall and phone as one part.");
});
