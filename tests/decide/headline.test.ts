import { describe, expect, it } from "vitest";
import { headlineOf } from "../../src/decide/headline.js";
import { exampleFindings } from "../report/example-findings.js";
import type { Undecided } from "../../src/result/findings.js";
import type { Verdict } from "../../src/result/rules.js";

const [rule] = exampleFindings.rules;
const said = (verdicts: readonly Verdict[], questions = 0, mend: Undecided["mend"] = [], waiting = 0, diary: Undecided["diary"] = { ...exampleFindings.diary, entries: 40 }): string =>
  headlineOf({ rules: verdicts.map((verdict, i) => ({ ...rule!, name: `rule ${i + 1}`, verdict })), questions: { ...exampleFindings.questions, settling: { count: questions, waiting } }, mend, diary });

describe("the headline", () => {
  it.each<[readonly Verdict[], number, string]>([
    [["not proven yet", "do not enable", "do not enable"], 0, "Turn none on yet. Take two off the list. Keep the diary going."],
    [["not proven yet"], 3, "Do not turn it on yet. Answer three questions."],
    [["do not enable"], 0, "Do not turn it on. Take it off the list."],
    [["do not enable", "do not enable"], 1, "Turn none on. Take both off the list."],
    [["clear to enable"], 0, "You can turn it on."],
    [["clear to enable", "not proven yet"], 1, "You can turn on “rule 1”. Answer one question."],
    [["clear to enable", "clear to enable", "do not enable"], 0, "You can turn two on. Take one off the list."],
    [[], 0, "There is no rule to decide on. See which sensors to mend."],
  ])("of %j with %i questions is: %s", (verdicts, questions, headline) => {
    expect(said(verdicts, questions)).toBe(headline);
  });

  it("speaks of a diary to start where there is none", () => {
    expect(said(["not proven yet"], 0, [], 0, { ...exampleFindings.diary, entries: 0 })).toBe("Do not turn it on yet. Start a diary.");
  });

  it("counts questions that may drop out as the most there can be", () => {
    expect(said(["not proven yet"], 12, [], 8)).toBe("Do not turn it on yet. Answer up to twelve questions.");
  });

  it("says what to mend where nothing else is to be done", () => {
    const mend = [{ what: "signal" as const, target: "phone-tom", text: "Mend phone-tom.", why: "", rules: [], weight: 1 }];
    expect(said(["clear to enable"], 0, mend)).toBe("You can turn it on. Mend phone-tom.");
    expect(said(["not proven yet"], 0, mend)).toBe("Do not turn it on yet. Keep the diary going.");
    const effect = { rule: "rule 1", wrong: 0, maybeWrong: 0, failed: 1, unjudged: 0, nearly: 0, expected: 0, did: ["1 of 2 missed unlocks"] };
    expect(said(["not proven yet"], 0, [{ ...mend[0]!, rules: [effect] }])).toBe("Do not turn it on yet. Mend phone-tom. Keep the diary going.");
  });
});
