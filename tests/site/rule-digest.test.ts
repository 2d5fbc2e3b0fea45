import { describe, expect, it } from "vitest";
import { parseSite } from "../../src/site/parse.js";
import { ruleDigest } from "../../src/site/rule-digest.js";
import type { RuleSpec } from "../../src/site/site.js";
import { tinySite } from "../commands/tiny-site.js";

/** The digest of the first rule after a change of the text. */
function digest(change: (text: string) => string = (text) => text): string {
  const site = parseSite(change(tinySite), "site.yaml", "/nowhere");
  return ruleDigest(site, site.rules[0]!);
}
const replaced = (from: string, to: string) => (text: string): string => {
  expect(text).toContain(from);
  return text.replace(from, to);
};

describe("a rule's digest", () => {
  it.each([
    ["its condition", "within: 10min", "within: 9min"],
    ["its limits", "wrong_per_year: 0.5", "wrong_per_year: 0.6"],
    ["its limits in words", "wrong_per_year: 0.5", "at_most: once in 3 years"],
    ["a band of a signal it listens to", "present: [3.7, 4.7]", "present: [3.7, 4.8]"],
    ["how the empty bay reads to one", "present: [3.7, 4.7]", "present: [3.7, 4.7], empty: [7.5, 8.5]"],
    ["the firmware of one", "present: [3.7, 4.7]", "present: [3.7, 4.7], firmware: replaced in May"],
    ["the clock correction of its source", "value: says", "value: says, clock_correction: 5s"],
    ["the confidence", "confidence: 0.95", "confidence: 0.9"],
  ])("changes with %s", (_, from, to) => {
    expect(digest(replaced(from, to))).not.toBe(digest());
  });

  it.each([
    ["its name", "name: unlock on arrival", "name: let us in"],
    ["where exports lie", "files: log.csv", "files: logs/*.csv"],
    ["a signal it does not listen to", "rules:", "  mat: { on: bay, source: log, channel: mat, kind: flag, occupied: [y], empty: [n] }\nrules:"],
    ["the site's name", "site: Otter Cottage", "site: Otter House"],
    ["what it states about its parts", "    when:", "    stated: { common_cause: { at_most: 1 in 50, because: looked }, no_shared_hours: { because: looked } }\n    when:"],
    ["an equal limit in words", "wrong_per_year: 0.5", "at_most: once in 2 years"],
    ["an equal limit in months", "wrong_per_year: 0.5", "at_most: once in 24 months"],
  ])("does not change with %s", (_, from, to) => {
    expect(digest(replaced(from, to))).toBe(digest());
  });

  it("does not depend on the order of keys", () => {
    const site = parseSite(tinySite, "site.yaml", "/nowhere");
    const [rule] = site.rules;
    const turnedAround = JSON.parse(JSON.stringify(rule), (_key, value: unknown) =>
      typeof value === "object" && value !== null && !Array.isArray(value) ? Object.fromEntries(Object.entries(value).reverse()) : value,
    ) as RuleSpec;
    expect(Object.keys(turnedAround)[0]).not.toBe(Object.keys(rule!)[0]);
    expect(ruleDigest(site, turnedAround)).toBe(ruleDigest(site, rule!));
  });
});
