import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { rightWhenText } from "../../../src/judge/gap/site-text.js";
import { twoEvents, type TwoEventsFiring } from "../../../src/judge/gap/two-events.js";
import { parseSite } from "../../../src/site/parse.js";
import type { Expression } from "../../../src/site/expression.js";
import { accountsOf, allOf, anyOf, bookOf, is, min, no, over, quorum, ruleOf, siteOf, turned } from "../small-site.js";

const site = siteOf({
  subjects: { "bay-1": "bay", "bay-2": "bay", mira: "person", tom: "person" },
  signals: { "meter-1": "bay-1", "meter-2": "bay-2", "phone-mira": "mira", "phone-tom": "tom" },
});
const when = allOf(anyOf(turned("meter-1", 1, 2), turned("meter-2", 1, 2)), anyOf(turned("phone-mira", 1, 10), turned("phone-tom", 1, 10)));
const rightWhen = allOf(anyOf(turned("mira", 1, 15), turned("tom", 1, 15)), anyOf(turned("bay-1", 1, 3), turned("bay-2", 1, 3)));

/** What the sensors tell, and what is true; where a subject is not named, nothing happens. */
function found(told: Readonly<Record<string, string>>, happened: Readonly<Record<string, string>>, facts: Expression = rightWhen): TwoEventsFiring[] {
  const truth = (id: string): { truth: string; outside: string } => ({ truth: happened[id] ?? "0 off", outside: happened[id] ?? "0 off" });
  const accounts = accountsOf(Object.fromEntries(site.signals.map(({ id }) => [id, told[id] ?? "0 off"])));
  return twoEvents(over(site, ruleOf(when, facts), accounts, bookOf(Object.fromEntries(site.subjects.map(({ id }) => [id, truth(id)])))));
}

describe("a firing that is right by two different events", () => {
  it("is found where somebody else made it right than the one the rule went by", () => {
    // Mira's phone came home by mistake; Tom drives in, and his own phone tells nothing.
    const [one, ...more] = found({ "meter-1": "0 off, 100 on", "phone-mira": "0 off, 91 on" }, { "bay-1": "0 off, 100 on", tom: "0 off, 100 on" });
    expect(more).toEqual([]);
    expect(one).toEqual({
      at: min(100),
      how: "another",
      sentence: "The rule went by phone-mira turned here within 10 min; what made it right is tom turned here within 15 min.",
      rightWhen: null,
    });
  });

  it("is found where the one the rule went by came nine minutes earlier than the one who drove in", () => {
    const both = found({ "meter-1": "0 off, 100 on", "phone-mira": "0 off, 91 on" }, { "bay-1": "0 off, 100 on", mira: "0 off, 91 on", tom: "0 off, 100 on" });
    expect(both).toMatchObject([{ how: "another", sentence: "The rule went by phone-mira turned here within 10 min; what made it right is tom turned here within 15 min." }]);
  });

  it("is found where what made it right lies too far apart, with the right_when that tells it from an arrival", () => {
    // Mira walked home; a visitor drives in twelve minutes later, and her phone told four minutes late.
    const [one] = found({ "meter-2": "0 off, 112 on", "phone-mira": "0 off, 104 on" }, { "bay-2": "0 off, 112 on", mira: "0 off, 100 on" });
    expect(one).toEqual({
      at: min(112),
      how: "apart",
      sentence: "mira turned here 12 min before bay-2 turned occupied: changes more than 10 min apart are not one event.",
      rightWhen: "{ all: [ { some: people, turned: here, within: 10min }, { some: bays, turned: occupied, within: 3min } ] }",
    });
  });

  it("is not an ordinary arrival, one of two together of whom one phone tells, or a wrong firing", () => {
    const arrival = { "bay-1": "0 off, 100 on", mira: "0 off, 101 on" };
    expect(found({ "meter-1": "0 off, 100 on", "phone-mira": "0 off, 101 on" }, arrival)).toEqual([]);
    expect(found({ "meter-1": "0 off, 100 on", "phone-mira": "0 off, 101 on" }, { ...arrival, tom: "0 off, 100 on" })).toEqual([]);
    expect(found({ "meter-1": "0 off, 100 on", "phone-mira": "0 off, 95 on" }, { tom: "0 off, 70 on" })).toEqual([]);
  });
});

describe("right_when as site-file text", () => {
  const siteFile = readFileSync("sample-data/household/site.yaml", "utf8");
  /** The household's first rule with another right_when: its bays and people are called as here. */
  const parsed = (text: string): Expression => parseSite(siteFile.replace(/right_when: .*/, () => `right_when: ${text}`), "site.yaml", ".").rules[0]!.rightWhen;

  it("is read back as what it was written from", () => {
    const conditions = [rightWhen, allOf(is("mira", 0), is("tom", 0)), anyOf(is("tom", 1, { heldMs: 90_000 }), no(is("bay-1", 1, { recentlyMs: min(70) }))), quorum(2, turned("mira", 0, 5), is("tom", 0), is("bay-2", 0))];
    for (const condition of conditions) expect(parsed(rightWhenText(condition, site))).toEqual(condition);
  });

  it("names no class where a subject of it is missing or asked something else", () => {
    expect(rightWhenText(anyOf(turned("mira", 1, 5), turned("tom", 1, 6)), site)).toBe("{ any: [ { subject: mira, turned: here, within: 5min }, { subject: tom, turned: here, within: 6min } ] }");
    expect(rightWhenText(allOf(is("mira", 1)), site)).toBe("{ all: [ { subject: mira, is: here } ] }");
  });
});
