import { describe, expect, it } from "vitest";
import { stepsFor } from "../../src/decide/steps.js";
import { exampleFindings } from "../report/example-findings.js";
import type { Undecided } from "../../src/result/findings.js";
import type { RuleFinding } from "../../src/result/rules.js";

const rule: RuleFinding = { ...exampleFindings.rules[0]!, name: "unlock on arrival", act: "unlock", singlePoints: { signals: [], causes: [] }, reasons: [], design: null, cumulated: null };
const effect = { rule: rule.name, wrong: 0, maybeWrong: 0, failed: 1, unjudged: 0, nearly: 0, expected: 0, did: ["1 of 2 missed unlocks"] };
const mend: Undecided["mend"] = [{ what: "signal", target: "bay-1-wall", text: "Mend bay-1-wall.", why: "", rules: [effect], weight: 1 }];
const bare: Undecided = { ...exampleFindings, mend: [], proposals: [], rules: [rule], questions: { list: [], rules: [], settling: { count: 0, waiting: 0 }, diaryEnds: null } };
const texts = (parts: Partial<RuleFinding>, findings: Partial<Undecided> = {}): string[] => stepsFor({ ...rule, ...parts }, { ...bare, ...findings }, "site.yaml").map(({ text }) => text);

describe("what to do about a rule", () => {
  it("that is clear: turn it on, and keep a way in by hand", () => {
    expect(texts({ verdict: "clear to enable" })[0]).toBe("Turn it on, and keep a manual way in and out.");
  });

  it("that is clear by design alone: says on what that rests", () => {
    const byDesign: RuleFinding["reasons"] = [{ code: "by-design", effect: "clears", text: "", measured: 0.7, limit: 1, unit: "per year" }];
    const because = (commonShareBecause: string | null, reasons = byDesign): string | undefined =>
      stepsFor({ ...rule, verdict: "clear to enable", reasons, design: { conditions: [], commonShare: 0.02, commonShareBecause, noSharedHoursBecause: null, figures: null } as unknown as RuleFinding["design"] }, bare, "site.yaml")[0]?.why;
    expect(because("different radio, power and maker")).toBe("It rests on what you stated about shared causes. The caution below says what this report cannot show.");
    expect(because(null)).toBe("It rests on an assumption about shared causes. The caution below says what this report cannot show.");
    expect(because(null, [{ ...byDesign[0]!, code: "wrong-upper-bound" }, ...byDesign])).toBe("The caution below says what this report cannot show.");
  });

  it("that one false report opens: take it off, use another one", () => {
    const refused: Partial<RuleFinding> = { verdict: "do not enable", singlePoints: { signals: ["phone-tom"], causes: [] }, reasons: [{ code: "single-signal", effect: "breaks", text: "", measured: 1, limit: 0, unit: "signals" }] };
    const other: RuleFinding = { ...rule, name: "unlock for a vehicle and a phone", verdict: "not proven yet" };
    const [first, second] = stepsFor({ ...rule, ...refused }, { ...bare, rules: [{ ...rule, ...refused }, other] }, "site.yaml");
    expect(first).toMatchObject({ text: "Take it off the list.", why: "One false report of phone-tom is enough to unlock. More history does not help." });
    expect(second!.text).toBe("Work on “unlock for a vehicle and a phone” instead.");
  });

  it("that is open: answer what can change it first, then mend what failed it, then wait", () => {
    const asked = { rule: rule.name, verdict: "not proven yet" as const, unverifiedFirings: 20, unverifiedWanted: 0, afterDiary: 20, could: ["do not enable" as const], settledBy: 2, waiting: 0, why: "" };
    expect(texts({ verdict: "not proven yet" }, { mend, questions: { ...bare.questions, rules: [asked] } })).toEqual(["Answer two questions.", "Mend bay-1-wall.", "Keep the diary going."]);
    expect(stepsFor({ ...rule, verdict: "not proven yet" }, { ...bare, questions: { ...bare.questions, rules: [asked] } }, "home.yaml")[0]!.command).toBe("keyworthy confirm home.yaml");
    // As a shell takes it.
    expect(stepsFor({ ...rule, verdict: "not proven yet" }, { ...bare, questions: { ...bare.questions, rules: [asked] } }, "my home.yaml")[0]!.command).toBe("keyworthy confirm 'my home.yaml'");
  });

  it("counts the questions that may drop out as the most there can be", () => {
    const asked = { rule: rule.name, verdict: "not proven yet" as const, unverifiedFirings: 20, unverifiedWanted: 0, afterDiary: 0, could: ["do not enable" as const], settledBy: 12, waiting: 8, why: "" };
    expect(texts({ verdict: "not proven yet" }, { questions: { ...bare.questions, rules: [asked] } })[0]).toBe("Answer up to twelve questions.");
  });

  it("that is missed though no sensor failed: look at what it is to act for", () => {
    const missed = (what: "did not happen" | "said the opposite") => ({ at: 0, outcome: "missed" as const, verified: false, firing: null, delaySeconds: null, why: "", culprit: { signal: null, condition: "bay-1-wall turned occupied within 2 min", what, from: null, to: null, bySeconds: null, wouldServeSeconds: null, signals: [], text: "" } });
    const asks = (...whats: Parameters<typeof missed>[0][]): string[] => stepsFor({ ...rule, verdict: "not proven yet", wantedList: whats.map(missed) }, bare, "site.yaml").map(({ text, why }) => `${text} ${why}`);
    const [first] = asks("did not happen", "said the opposite", "did not happen", "did not happen");
    expect(first).toBe("Say in right_when what must come, if it need not act without it. At 3 of 4 missed or late unlocks no sensor failed: “bay-1-wall turned occupied within 2 min” was truly not so.");
    expect(asks("did not happen", "did not happen", "said the opposite")[0]).not.toContain("right_when");
    expect(asks("did not happen", "did not happen", "did not happen", "said the opposite", "said the opposite", "said the opposite")[0]).not.toContain("right_when");
  });

  it("that was not touched by a fault says nothing of mending it", () => {
    const others = mend.map((one) => ({ ...one, rules: [{ ...effect, failed: 0, nearly: 3 }] }));
    expect(texts({ verdict: "not proven yet" }, { mend: others })).toEqual(["Keep the diary going."]);
  });

  it("is never more than three things", () => {
    expect(texts({ verdict: "not proven yet" }, { ...exampleFindings, mend }).length).toBeLessThanOrEqual(3);
  });
});
