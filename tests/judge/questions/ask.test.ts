import { describe, expect, it } from "vitest";
import type { Question } from "../../../src/result/questions.js";
import { min, ruleOf, turned } from "../small-site.js";
import { asked, days, household } from "./small-household.js";

const strict = household({ wrongPerYear: 15, missedShare: 0.9, withinMs: min(2) });
const minutes = (at: number): number => at / 60_000;
const rowsOf = (question: Question, says: string): unknown[] => question.answers.find((one) => one.says === says)!.rows.map(({ subject, state, from, to }) => [subject, state, minutes(from), minutes(to)]);

/** Sam comes home at 11:30 GMT (minute 690) on the first day: the gate first, the phone a minute and a half later. */
const oneArrival = { "gate-contact": "0 off, 690 on, 692 off", "phone-sam": "0 off, 691.5 on", "phone-robin": "0 off" };

describe("a question about an arrival", () => {
  const { questions } = asked(strict, oneArrival, days(1));
  const [first] = questions.list;

  it("asks whether somebody came, in local words, and offers what else may have been", () => {
    // Summer time all year round in London in 1970: the epoch is 01:00 there.
    expect(first!.text).toBe("Did sam come home about 12:30 on Thursday 1 January?");
    expect(first!.answers.map(({ says }) => says)).toEqual(["Yes", "No, sam was at home the whole time, 12:14 to 12:35", "No, sam was out the whole time, 12:14 to 12:35"]);
  });

  it("says neither what a sensor told nor which answer would help", () => {
    expect(JSON.stringify([first!.text, first!.answers.map(({ says }) => says)])).not.toMatch(/phone|gate|right|wrong|rule/);
  });

  it("dates an arrival by the earliest of what moved together: a late phone is no witness for itself", () => {
    expect(rowsOf(first!, "Yes")).toEqual([["sam", "away", 673.5, 690], ["sam", "here", 690, 694.5]]);
  });

  it("writes for every other answer one state, over no more than what the facts look at and a minute", () => {
    expect(rowsOf(first!, "No, sam was at home the whole time, 12:14 to 12:35")).toEqual([["sam", "here", 673.5, 694.5]]);
    expect(first!.about.map(({ subject, from, to }) => [subject, minutes(from), minutes(to)])).toEqual([["sam", 673.5, 694.5]]);
  });

  it("comes first about whom something moved; the other person waits until that answer is known", () => {
    expect(questions.list.map(({ about }) => about[0]!.subject)).toEqual(["sam"]);
    // Wrong is only known when both did not come.
    expect(questions.rules[0]).toMatchObject({ verdict: "not proven yet", could: ["do not enable"], settledBy: 2, waiting: 1, unverifiedFirings: 1 });
    expect(questions.settling).toEqual({ count: 2, waiting: 1 });
    expect(questions.rules[0]!.why).toBe("Up to two answers can change the verdict: run keyworthy confirm site.yaml.");
  });

  it("lists every moment at which anything of the site moved, where they lie more than two minutes apart", () => {
    const late = { ...oneArrival, "gate-contact": "0 off, 690 on, 692 off, 693 on, 694 off", "phone-sam": "0 off, 693.5 on" };
    const [question] = asked(strict, late, days(1)).questions.list;
    expect(question!.text).toBe("Did sam come home between 12:16 and 12:37 on Thursday 1 January, and when?");
    expect(question!.answers.map(({ says }) => says)).toEqual(["Yes, about 12:30", "Yes, about 12:33", "No, sam was at home the whole time, 12:16 to 12:37", "No, sam was out the whole time, 12:16 to 12:37"]);
  });

  it("does not let an answer reach over a departure that the person's own sensors saw", () => {
    const shortly = { ...oneArrival, "phone-sam": "0 on, 685 off, 691.5 on" };
    const [question] = asked(strict, shortly, days(1)).questions.list;
    expect(rowsOf(question!, "Yes")).toEqual([["sam", "away", 685, 690], ["sam", "here", 690, 694.5]]);
    expect(question!.answers.map(({ says }) => says)).toContain("No, but sam left home about 12:25");
  });
});

describe("what is asked", () => {
  it("stays the same after another answer was given, and what was answered is not asked again", () => {
    const two = { "gate-contact": "0 off, 690 on, 692 off, 1000 on, 1002 off", "phone-sam": "0 off, 691.5 on, 900 off, 1001 on", "phone-robin": "0 off" };
    const before = asked(strict, two, days(1)).questions.list;
    expect(before.map(({ id }) => id)).toEqual(["sam 1970-01-01T12:13"]);
    const entries = before[0]!.answers[0]!.rows.map(({ subject, state, from, to }) => ({ subject, state: state === "here" ? (1 as const) : (0 as const), from, to, file: "diary.csv", line: 2 }));
    const after = asked(strict, two, days(1), { entries }).questions.list;
    expect(after.map(({ id }) => id)).toEqual(["sam 1970-01-01T17:23"]);
    const alone = asked(strict, { ...two, "gate-contact": "0 off, 1000 on, 1002 off" }, days(1)).questions.list;
    expect(after[0]!.about).toEqual(alone[0]!.about);
  });

  it("is not asked of somebody who did not know", () => {
    const [first] = asked(strict, oneArrival, days(1)).questions.list;
    const { questions } = asked(strict, oneArrival, days(1), { unknown: first!.about });
    expect(questions.list).toEqual([]);
    expect(questions.rules[0]!.settledBy).toBeNull();
  });

  it("is nothing where one sensor alone can open: no answer changes that", () => {
    const careless = ruleOf(turned("phone-sam", 1, 1), turned("sam", 1, 15));
    const { questions } = asked(strict, oneArrival, days(1), {}, careless);
    expect(questions.list).toEqual([]);
    expect(questions.rules[0]!.why).toBe("More answers change nothing: phone-sam alone can unlock it.");
  });

  it("is nothing where the limit is too far to be broken by what is open", () => {
    const { questions } = asked(household({ wrongPerYear: 5000, missedShare: 0.9, withinMs: min(2) }), oneArrival, days(1));
    expect(questions).toMatchObject({ list: [], rules: [{ could: [], settledBy: null, why: "More answers change nothing: it takes a longer history." }] });
  });

  it("is nothing once the rule is clear: its bounds allow for what nobody confirmed", () => {
    const clear = household({ wrongPerYear: 5000, missedShare: 1, withinMs: min(2) });
    const many = { ...oneArrival, "gate-contact": `0 off, ${Array.from({ length: 7 }, (_, day) => `${day * 1440 + 690} on, ${day * 1440 + 692} off`).join(", ")}`, "phone-sam": `0 off, ${Array.from({ length: 7 }, (_, day) => `${day * 1440 + 691} on, ${day * 1440 + 900} off`).join(", ")}` };
    const { questions } = asked(clear, many, days(7), {}, undefined, (finding) => ({ ...finding, verdict: "clear to enable" }));
    expect(questions.list).toEqual([]);
    expect(questions.rules[0]!.why).toBe("It is clear. The bounds allow for the 7 unlocks that nobody confirmed.");
  });

  it("says where the diary ends and how much came after it", () => {
    const entries = [{ subject: "robin", state: 1 as const, from: 0, to: min(23 * 60), file: "diary.csv", line: 2 }];
    const later = { "gate-contact": "0 off, 2130 on, 2132 off", "phone-sam": "0 off, 2131 on", "phone-robin": "0 on" };
    const { questions } = asked(household({ wrongPerYear: 8, missedShare: 0.9, withinMs: min(2) }), later, days(2), { entries });
    expect(questions.rules[0]).toMatchObject({ afterDiary: 1 });
    expect(questions.rules[0]!.why).toMatch(/^Your diary stops on 1 January; 1 of 1 unconfirmed unlock came after it\. /);
  });
});

describe("a diary that everything else denies", () => {
  /** The diary says that Sam was away at noon, when the phone was here; so the unlock is wrong. */
  const entry = (subject: string) => ({ subject, state: 0 as const, from: min(660), to: min(720), file: "diary.csv", line: 2 });
  const entries = [entry("sam"), entry("robin")];
  const told = { ...oneArrival, "phone-sam": "0 off, 690 on" };

  it("is asked again, once", () => {
    const { questions, judged } = asked(strict, told, days(1), { entries });
    expect(judged.finding).toMatchObject({ verdict: "do not enable", firings: { wrong: 1 } });
    expect(questions.list[0]).toMatchObject({ again: true, text: "Your diary says that sam was out on Thursday 1 January from 12:30 to 13:00. Is that so?" });
    expect(questions.list[0]!.answers.map(({ says, rows }) => [says, rows[0]!.state])).toEqual([["Yes, it is so", "away"], ["No, or I am not sure any more", "taken back"]]);
    expect(asked(strict, told, days(1), { entries, twice: questions.list[0]!.about }).questions.list).toEqual([]);
  });
});
