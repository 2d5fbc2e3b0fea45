import { describe, expect, it } from "vitest";
import { judgeRule } from "../../../src/judge/judge.js";
import { defaultRightWhen } from "../../../src/site/default-right-when.js";
import type { RuleSpec } from "../../../src/site/site.js";
import { accountsOf, allOf, bookOf, is, min, no, over, ruleOf, siteOf, turned, type Told } from "../small-site.js";
import type { RuleJudgement } from "../../../src/result/rules.js";

const site = siteOf({
  subjects: { mira: "person", tom: "person", "bay-1": "bay", "bay-2": "bay" },
  signals: { "phone-mira": "mira", "phone-tom": "tom" },
  limits: { lock: { wrongPerYear: 2, missedShare: 0.5, withinMs: min(30) }, unlock: { wrongPerYear: 2, missedShare: 0.5, withinMs: min(2) } },
});
const goneAtTwice = "0 on, 100 off, 300 on, 600 off, 900 on, 1200 off";
const accounts = accountsOf({ "phone-mira": goneAtTwice, "phone-tom": goneAtTwice });
const bothGone = allOf(is("phone-mira", 0), is("phone-tom", 0));
const everyoneAndTheVehicles = allOf(is("mira", 0), is("tom", 0), is("bay-1", 0), is("bay-2", 0));
const lock = ruleOf(bothGone, everyoneAndTheVehicles, { act: "lock" });

const told = (text: string): Told => ({ truth: text, outside: text, basis: "several", vouchers: ["one", "other"] });
/** Both leave at 100, 600 and 1200; bay-2 is occupied all along, but for the last time; at 600 tom is still here. */
const facts = {
  mira: told("0 on, 100 off, 300 on, 600 off, 900 on, 1200 off"),
  tom: told("0 on, 100 off, 300 on, 1200 off"),
  "bay-1": told("0 off"),
  "bay-2": told("0 on, 1190 off"),
};
const judged = (rule: RuleSpec, more: Readonly<Record<string, Told>> = {}): RuleJudgement => judgeRule(over(site, rule, accounts, bookOf({ ...facts, ...more })));

describe("a firing that only right_when makes wrong", () => {
  const seen = judged(lock);

  it("is told from one that is wrong by any measure, and from right ones", () => {
    expect(seen.firingList.map(({ outcome, wrongByOwnWords }) => [outcome, wrongByOwnWords])).toEqual([["wrong", true], ["wrong", false], ["right", false]]);
  });

  it("says what was so, what right_when asks more, and asks whether that is meant", () => {
    expect(seen.firingList[0]!.why).toMatch(/^Wrong: .* Wrong only by your own right_when: both people were away, but bay-2 was not empty\. Do you mean that\?$/);
    expect(seen.firingList[1]!.why).not.toContain("own words");
  });

  it("stands among the reasons, and decides nothing", () => {
    expect(seen.reasons.filter(({ code }) => code === "own-words")).toEqual([
      {
        code: "own-words",
        effect: "noted",
        text: "1 of 2 wrong lockings is wrong only because right_when also asks for this: bay-2 is empty. If you do not mean that, take it out of right_when.",
        measured: 1,
        limit: null,
        unit: "lockings",
      },
    ]);
    const usual = judged({ ...lock, rightWhen: defaultRightWhen("lock", site.subjects)!, rightWhenIsDefault: true });
    expect(seen.firings.wrong).toBe(2);
    expect(usual.firings.wrong).toBe(1);
  });

  it("is none where right_when is the usual one", () => {
    const usual = judged({ ...lock, rightWhen: defaultRightWhen("lock", site.subjects)!, rightWhenIsDefault: true });
    expect(usual.firingList.some((one) => one.wrongByOwnWords)).toBe(false);
    expect(usual.reasons.some(({ code }) => code === "own-words")).toBe(false);
  });

  it("says whose word it is where nobody outside the rule can tell that it would have been right by the usual one", () => {
    const [first, second] = judged(lock, { mira: { ...facts.mira, outside: "" } }).firingList;
    expect(first).toMatchObject({ outcome: "wrong", wrongByOwnWords: true });
    expect(first!.why).toContain("Wrong only by your own right_when: by the rule's own sensors both people were away, but bay-2 was not empty.");
    expect(second!.wrongByOwnWords).toBe(false);
  });

  it("is told the other way round where it stands under a not", () => {
    const unless = judged({ ...lock, rightWhen: allOf(is("mira", 0), is("tom", 0), no(is("bay-2", 1))) });
    expect(unless.firingList[0]!.why).toContain("but bay-2 was occupied. Do you mean");
    expect(unless.reasons.find(({ code }) => code === "own-words")!.text).toContain("also asks for this: not (bay-2 is occupied).");
  });
});

describe("an unlocking that only right_when makes wrong", () => {
  it("had somebody arriving, and asked for more", () => {
    const unlock = ruleOf(turned("phone-mira", 1, 1), allOf(turned("mira", 1, 15), turned("bay-2", 1, 15)), { act: "unlock" });
    const seen = judged(unlock);
    expect(seen.firingList.map(({ outcome, wrongByOwnWords }) => [outcome, wrongByOwnWords])).toEqual([["wrong", true], ["wrong", true]]);
    expect(seen.firingList[0]!.why).toContain("Wrong only by your own right_when: somebody had arrived, but bay-2 had not turned occupied within 15 min. Do you mean");
    expect(seen.reasons.find(({ code }) => code === "own-words")!.text).toMatch(/^2 of 2 wrong unlocks are wrong only because/);
  });
});
