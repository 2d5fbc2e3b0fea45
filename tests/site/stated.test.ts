import { describe, expect, it } from "vitest";
import { parseFurtherRules } from "../../src/site/further-rules.js";
import { parseSite } from "../../src/site/parse.js";
import { edited, messagesFor, smallSite } from "./small-site.js";

/** The small site, its rule stating this. */
const stating = (stated: string): string => edited(["    when:", `    stated: ${stated}\n    when:`]);
const statedOf = (text: string) => parseSite(text, "site.yaml", "/somewhere").rules[0]!.stated;

describe("what a rule states", () => {
  it("is read with its reasons", () => {
    expect(statedOf(stating("{ common_cause: { at_most: 1 in 50, because: no board in common }, no_shared_hours: { because: sun and night }, one_part: [ [overhead, rail] ] }"))).toEqual({
      commonCause: { atMostShare: 0.02, because: "no board in common" },
      noSharedHours: { because: "sun and night" },
      oneParts: [["overhead", "rail"]],
    });
  });

  it.each([["0.02"], ["2 %"], ["1 in 50"], ['"1 in 50"']])("may give a share as %s", (share) => {
    expect(statedOf(stating(`{ common_cause: { at_most: ${share}, because: looked } }`))?.commonCause?.atMostShare).toBe(0.02);
  });

  it("is nothing where nothing stands", () => {
    expect(statedOf(smallSite)).toBeUndefined();
    expect(statedOf(stating("{}"))).toEqual({ commonCause: null, noSharedHours: null, oneParts: [] });
  });

  it("may be stated by a rule to be tried beside the site's own", () => {
    const site = parseSite(smallSite, "site.yaml", "/somewhere");
    const text = "rules:\n  - { name: other, act: unlock, when: { signal: rail, is: open }, stated: { no_shared_hours: { because: looked } } }\n";
    expect(parseFurtherRules(text, "more.yaml", site, smallSite)[0]?.stated?.noSharedHours).toEqual({ because: "looked" });
    expect(() => parseFurtherRules(text.replace("no_shared_hours: { because: looked }", "one_part: [[rail, overhead]]"), "more.yaml", site, smallSite)).toThrow(
      'more.yaml:2:95: The rule "other" does not use the signal "overhead". Expected one of the signals that this rule uses: rail.',
    );
  });
});

describe("messages about what a rule states", () => {
  const place = "rules › item 1 › stated";
  it.each<[string, string, string[]]>([
    ["nothing after the key", "", [`site.yaml:25:5: The value of ${place} cannot be used. Expected a mapping with \`common_cause\`, \`no_shared_hours\` or \`one_part\`; found nothing.`]],
    ["a misspelt key", "{ comon_cause: { at_most: 0.1, because: x } }", [
      `site.yaml:25:15: "comon_cause" is not a key of ${place}. Expected one of common_cause, no_shared_hours, one_part. To mend it: did you mean "common_cause"?`,
    ]],
    ["a share above all", "{ common_cause: { at_most: 2, because: x } }", [
      `site.yaml:25:40: The value of ${place} › common_cause › at_most cannot be used. Expected a share above 0 and up to 1, such as 0.02, 2 % or 1 in 50; found "2".`,
    ]],
    ["no share at all", "{ common_cause: { at_most: 0, because: x } }", [
      `site.yaml:25:40: The value of ${place} › common_cause › at_most cannot be used. Expected a share above 0 and up to 1, such as 0.02, 2 % or 1 in 50; found "0".`,
    ]],
    ["a common cause without share and reason", "{ common_cause: {} }", [
      `site.yaml:25:15: "at_most" is missing in ${place} › common_cause. Expected a share above 0 and up to 1, such as 0.02, 2 % or 1 in 50.`,
      `site.yaml:25:15: "because" is missing in ${place} › common_cause. Expected why you state it.`,
    ]],
    ["an empty reason", '{ common_cause: { at_most: 0.1, because: " " } }', [`site.yaml:25:54: The value of ${place} › common_cause › because cannot be used. Expected why you state it, not empty; found " ".`]],
    ["hours without a reason", "{ no_shared_hours: {} }", [`site.yaml:25:15: "because" is missing in ${place} › no_shared_hours. Expected why you state it.`]],
    ["hours that only say yes", "{ no_shared_hours: yes }", [`site.yaml:25:32: The value of ${place} › no_shared_hours cannot be used. Expected a mapping with \`because\`; found "yes".`]],
    ["one part that is no list", "{ one_part: rail }", [`site.yaml:25:25: The value of ${place} › one_part cannot be used. Expected a list of lists of signals, such as [ [ rail, phone ] ]; found "rail".`]],
    ["one part of nothing", "{ one_part: [] }", [`site.yaml:25:15: The value of ${place} › one_part cannot be used. Expected a list of lists of signals, such as [ [ rail, phone ] ], not empty; found an empty list.`]],
    ["one part without inner lists", "{ one_part: [overhead, rail] }", [
      `site.yaml:25:26: The value of ${place} › one_part › item 1 cannot be used. Expected a list of two or more signals of this rule; found "overhead".`,
      `site.yaml:25:36: The value of ${place} › one_part › item 2 cannot be used. Expected a list of two or more signals of this rule; found "rail".`,
    ]],
    ["one part of one signal", "{ one_part: [[rail]] }", [`site.yaml:25:26: The value of ${place} › one_part › item 1 cannot be used. Expected a list of two or more signals of this rule; found a list of 1.`]],
    ["an unknown signal", "{ one_part: [[overhead, rial]] }", [
      'site.yaml:25:37: "rial" is no signal of this site. Expected one of the signals that this rule uses: overhead, rail. To mend it: did you mean "rail"?',
    ]],
    ["a signal that the rule does not use", "{ one_part: [[overhead, rail], [rail, phone-mira]] }", [
      'site.yaml:25:51: The rule "unlock" does not use the signal "phone-mira". Expected one of the signals that this rule uses: overhead, rail.',
    ]],
    ["a signal named twice", "{ one_part: [[rail, rail]] }", [`site.yaml:25:33: ${place} › one_part › item 1 names "rail" twice. Expected each signal once.`]],
  ])("%s", (_, stated, messages) => expect(messagesFor(stating(stated))).toEqual(messages));

  it("speaks of the site's signals where the condition itself is wrong", () => {
    const text = stating("{ one_part: [[phone-mira, rial]] }").replace("signal: overhead, turned: occupied", "signal: overhed, turned: occupied");
    expect(messagesFor(text)).toEqual([
      'site.yaml:25:39: "rial" is no signal of this site. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: did you mean "rail"?',
      'site.yaml:28:21: "overhed" is not a signal of this site. Expected a name under signals: overhead, rail, phone-mira, place-tom. To mend it: did you mean "overhead"?',
    ]);
  });
});
