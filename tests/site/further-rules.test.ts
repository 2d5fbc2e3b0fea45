import { describe, expect, it } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { parseFurtherRules } from "../../src/site/further-rules.js";
import { parseSite } from "../../src/site/parse.js";
import { edited, smallSite } from "./small-site.js";

function rulesOf(text: string, siteText = smallSite): ReturnType<typeof parseFurtherRules> {
  return parseFurtherRules(text, "more.yaml", parseSite(siteText, "site.yaml", "/somewhere"), siteText);
}

function messages(text: string, siteText = smallSite): string[] {
  try {
    rulesOf(text, siteText);
    return [];
  } catch (error) {
    if (error instanceof InputError) return error.message.split("\n");
    throw error;
  }
}

const withNamed = edited(["rules:", "named: { gate open: { signal: rail, is: open } }\nrules:"]);

describe("a file of further rules", () => {
  it("is read as the rules of the site file are, with the site's signals and people", () => {
    const [rule, ...others] = rulesOf("rules:\n  - { name: careless, act: unlock, when: { signal: phone-mira, turned: here, within: 1min }, rest: 5min }\n");
    expect(others).toEqual([]);
    expect(rule).toMatchObject({ name: "careless", act: "unlock", restMs: 300_000, line: 2, rightWhenIsDefault: true, when: { op: "turned", ref: "phone-mira", to: 1, withinMs: 60_000 } });
  });

  it("may use the site's named conditions and its own", () => {
    const [rule] = rulesOf("named: { near: { signal: phone-mira, is: here } }\nrules:\n  - { name: both, act: unlock, when: { all: [ { use: near }, { use: gate open } ] } }\n", withNamed);
    expect(rule?.when).toMatchObject({ op: "all", of: [{ ref: "phone-mira" }, { ref: "rail" }] });
  });

  it.each<[string, string, string[]]>([
    ["nothing in it but another key", "limits: {}\n", [
      'more.yaml:1:1: "limits" does not belong in a file of further rules. Expected rules, and named if you like.',
      "more.yaml:1:1: The file has no further rules. Expected a list under `rules`, written as in the site file; found nothing.",
    ]],
    ["a list in place of a mapping", "- 1\n", ["more.yaml:1:1: This is not a file of further rules. Expected a mapping with `rules`, written as in the site file; found a list of 1."]],
    ["a name that the site has", "rules:\n  - { name: unlock, act: unlock, when: { signal: rail, is: open } }\n", [
      'more.yaml:2:13: The site has a rule called "unlock" already. Expected a name of its own for each rule. To mend it: give it another name.',
    ]],
    ["a signal that the site has not", "rules:\n  - name: other\n    act: unlock\n    when: { signal: rial, is: open }\n", [
      'more.yaml:4:21: "rial" is not a signal of this site. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: did you mean "rail"?',
    ]],
    ["a wrong shape", "rules:\n  - name: other\n    act: unlok\n    when: { signal: rail, is: open }\n", [
      'more.yaml:3:10: The value of rules › item 1 › act cannot be used. Expected unlock, lock, disarm or arm; found "unlok". To mend it: did you mean "unlock"?',
    ]],
  ])("says what is wrong with %s, by the line of its own", (_, text, expected) => {
    expect(messages(text)).toEqual(expected);
  });

  it("does not take a named condition's name twice", () => {
    expect(messages("named: { gate open: { signal: rail, is: open } }\nrules:\n  - { name: other, act: unlock, when: { use: gate open } }\n", withNamed)).toEqual([
      'more.yaml:1:10: The site file has a named condition "gate open" already. Expected a name of its own.',
    ]);
  });
});
