import { describe, expect, it } from "vitest";
import { ruleFigures, YEAR_MS } from "../../src/rules/figures.js";
import type { LyingInPractice } from "../../src/rules/lying-in-practice.js";
import type { FiringJudgement } from "../../src/rules/outcomes.js";
import { verdictSentence } from "../../src/rules/sentence.js";
import { verdictOf, type VerdictInput, type VerdictResult } from "../../src/rules/verdict.js";
import type { WantedOutcome } from "../../src/rules/wanted.js";
import type { Act, ActLimits } from "../../src/site/site.js";
import { min } from "./small-site.js";

interface Past {
  readonly act?: Act;
  readonly days?: number;
  readonly blindDays?: number;
  readonly right?: number;
  readonly wrong?: number;
  readonly unverified?: number;
  readonly served?: number;
  readonly late?: number;
  readonly missed?: number;
  readonly limits?: Partial<ActLimits> | null;
  readonly signals?: readonly string[];
  readonly causes?: readonly string[];
  readonly cutOff?: number;
  readonly inPractice?: LyingInPractice;
}

const none = { value: 0, high: 0, why: null };
const nothingInPractice: LyingInPractice = { wrongHours: 700, upToSize: 2, count: 0, sets: [], expectedPerYear: { independent: none, withSharedCauses: none } };

const DAY = 24 * 60 * 60_000;

function inputOf(past: Past): VerdictInput {
  const firing = (outcome: FiringJudgement["outcome"]): FiringJudgement => ({ at: 0, outcome, looks: "unclear", why: "", vouchers: [] });
  const wanted = (outcome: WantedOutcome["outcome"], delaySeconds: number | null): WantedOutcome => ({ at: 0, outcome, verified: false, firingAt: null, delaySeconds, why: "" });
  const many = <T>(count: number | undefined, one: T): T[] => Array.from({ length: count ?? 0 }, () => one);
  const limits = past.limits === null ? null : { wrongPerYear: 0.5, missedShare: 0.1, withinMs: min(2), ...past.limits };
  const figures = ruleFigures(
    [...many(past.right, firing("right")), ...many(past.wrong, firing("wrong")), ...many(past.unverified, firing("unverified"))],
    [...many(past.served, wanted("served", 10)), ...many(past.late, wanted("late", 300)), ...many(past.missed, wanted("missed", null))],
    (past.blindDays ?? 0) * DAY,
    { from: 0, to: (past.days ?? 31) * DAY },
    limits,
    0.95,
    past.act ?? "unlock",
  );
  return { act: past.act ?? "unlock", limits, confidence: 0.95, figures, singlePoints: { signals: past.signals ?? [], causes: past.causes ?? [] }, inPractice: past.inPractice ?? nothingInPractice, cutOff: past.cutOff ?? 0 };
}

function judged(past: Past): VerdictResult & { readonly sentence: string } {
  const input = inputOf(past);
  const result = verdictOf(input);
  return { ...result, sentence: verdictSentence(input, result) };
}

const effects = (past: Past): string[] => judged(past).reasons.map((reason) => `${reason.code} ${reason.effect}`);

describe("clear to enable", () => {
  it("needs enough years and enough wanted instants without a fault", () => {
    const { verdict, sentence, reasons } = judged({ days: 2200, right: 40, served: 40 });
    expect(verdict).toBe("clear to enable");
    expect(reasons.map((reason) => reason.effect)).toEqual(["clears", "clears", "clears", "clears"]);
    expect(sentence).toBe(
      "Clear to enable: no wrong unlock in 6.02 years means at most 0.498 a year (limit 0.5), and 0 missed of 40 wanted at most 7.22 % (limit 10 %), at 95 % confidence and as long as things stay as they were.",
    );
  });

  it("rests on one-sided bounds: the two-sided interval would ask for more", () => {
    expect(judged({ days: 2200, right: 40, served: 40 }).bounds.wrongUpper).toBeCloseTo(2.9957 / (2200 / 365.25), 3);
    expect(inputOf({ days: 2200 }).figures.wrongPerYear.unverifiedAsWrong.high).toBeCloseTo(3.6889 / (2200 / 365.25), 3);
  });

  it("counts a late wanted instant as not missed", () => {
    expect(judged({ days: 2200, right: 40, served: 20, late: 20 }).verdict).toBe("clear to enable");
  });
});

describe("not proven yet", () => {
  it("is what a month without a wrong unlock amounts to", () => {
    const { verdict, sentence } = judged({ right: 40, served: 40 });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toBe("Not proven yet: no wrong unlock in 31 days still allows up to 35.3 a year; the limit is 0.5. Another 72 months without a fault would show it.");
  });

  it("is what unverified firings amount to, taken as wrong", () => {
    const { verdict, sentence } = judged({ right: 40, unverified: 2, served: 42 });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toBe(
      "Not proven yet: 2 of 42 unlocks in 31 days are unverified; taken as wrong, they allow up to 74.2 wrong a year; the limit is 0.5. If they turn out right, another 72 months without a fault would show it; if they stay unverified, 153 months.",
    );
    expect(judged({ days: 2200, right: 40, unverified: 1, served: 40 }).verdict).toBe("not proven yet");
  });

  it("says what was wrong apart from what nobody can tell, and what is shown already should that be right", () => {
    expect(judged({ days: 9000, right: 40, wrong: 1, unverified: 2, served: 42, limits: { wrongPerYear: 0.2 } }).sentence).toBe(
      "Not proven yet: of 43 unlocks in 24.6 years, 1 was wrong and 2 are unverified; taken as wrong, they allow up to 0.315 wrong a year; the limit is 0.2. If they turn out right, it is shown; if they stay unverified, another 173 months.",
    );
  });

  it("does not put off to time what time does not mend", () => {
    const board = { signals: [], causes: ["board-a"], text: "board-a alone", share: 0.015, hoursPerMonth: 10.5, expectedPerYear: { value: 0.3, high: 0.6, why: null } };
    expect(judged({ right: 40, served: 40, inPractice: { ...nothingInPractice, count: 1, sets: [board] } }).sentence).toMatch(
      /Another 72 months without a fault would show it\. Time will not mend that board-a alone would at times have sufficed\.$/,
    );
  });

  it("is said when nothing was ever wanted", () => {
    const past = { days: 2200, cutOff: 1 };
    expect(judged(past).verdict).toBe("not proven yet");
    expect(judged(past).sentence).toBe("Not proven yet: no unlock was wanted in 6.02 years, so nothing shows that the rule acts when it should.");
    expect(judged(past).reasons.find((reason) => reason.code === "nothing-wanted")?.text).toContain("Not counted, for the history ends too soon after: 1.");
  });

  it("is said when too few were wanted to rule out that too many are missed", () => {
    expect(judged({ days: 2200, right: 10, served: 10 }).sentence).toBe(
      "Not proven yet: 0 missed of 10 wanted unlocks still allow up to 25.9 %; the limit is 10 %. Another 19 wanted unlocks, none missed, would show it.",
    );
  });

  it("is said without limits, whatever was seen", () => {
    const past = { act: "arm" as const, days: 20_000, right: 40, served: 40, limits: null };
    expect(judged(past).verdict).toBe("not proven yet");
    expect(effects(past)).toEqual(["no-limits open"]);
    expect(judged(past).sentence).toBe("Not proven yet: the site file sets no limits for arm; no wrong arming in 54.8 years allows up to 0.0548 a year.");
  });

  it("is said when the rule was blind for too much of the time, and blind time is not counted as seen", () => {
    const past = { days: 8000, blindDays: 1000, right: 40, served: 40 };
    expect(inputOf(past).figures.evidence).toMatchObject({ yearsSeen: 7000 / 365.25, blindShare: 0.125 });
    expect(judged(past).verdict).toBe("not proven yet");
    expect(judged(past).sentence).toBe("Not proven yet: for 12.5 % of the time the rule's condition could not be known, too much to judge by.");
    expect(effects({ days: 8000, blindDays: 400, right: 40, served: 40 })).toContain("blind-time clears");
  });

  it("holds when the rule was blind all the time: no time seen allows any number", () => {
    const { verdict, sentence, reasons } = judged({ blindDays: 31 });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toContain("no wrong unlock in 0 days still allows up to any number a year");
    expect(reasons.find((reason) => reason.code === "wrong-upper-bound")?.measured).toBeNull();
  });

  it("says so when no length of time can show the limit", () => {
    const { sentence } = judged({ right: 1, served: 1, limits: { wrongPerYear: 0 } });
    expect(sentence).toContain("the limit is 0. No length of time can show a limit of 0.");
    expect(inputOf({ limits: { wrongPerYear: 0 } }).figures.evidence.moreMonthsIfUnverifiedWrong).toBeNull();
  });
});

describe("do not enable", () => {
  it("is said when even the lower bound of wrong unlocks breaks the limit", () => {
    const past = { right: 40, wrong: 1, served: 40 };
    expect(judged(past).verdict).toBe("do not enable");
    expect(judged(past).sentence).toBe("Do not enable: 1 wrong unlock in 31 days means at least 0.604 a year at 95 % confidence; the limit is 0.5.");
    expect(effects(past)).toContain("wrong-lower-bound breaks");
  });

  it("is not said for firings that nobody could verify, however many", () => {
    expect(judged({ unverified: 50, served: 50 }).verdict).toBe("not proven yet");
  });

  it("is said when too many wanted unlocks were missed", () => {
    expect(judged({ days: 2200, right: 10, served: 10, missed: 10 }).sentence).toBe(
      "Do not enable: 10 missed of 20 wanted unlocks mean at least 30.1 % at 95 % confidence; the limit is 10 %.",
    );
  });

  it("is said when one signal or one shared cause alone could open, with or without limits", () => {
    const proven = { days: 2200, right: 40, served: 40 };
    expect(judged({ ...proven, signals: ["phone-mira"] }).sentence).toBe("Do not enable: phone-mira alone, by reading wrongly, would unlock.");
    expect(judged({ ...proven, causes: ["board-a", "hub"] }).sentence).toBe("Do not enable: a fault of each of board-a, hub alone would unlock.");
    expect(judged({ ...proven, act: "disarm", signals: ["phone-mira"], limits: null }).verdict).toBe("do not enable");
  });
});

describe("a rule that shuts", () => {
  it("is told of its single points, which do not decide", () => {
    const past = { act: "lock" as const, days: 2200, right: 40, served: 40, signals: ["phone-mira"] };
    expect(judged(past).verdict).toBe("clear to enable");
    expect(effects(past)).toEqual(["wrong-upper-bound clears", "missed-upper-bound clears", "single-signal noted"]);
    expect(judged(past).reasons.at(-1)?.text).toBe("phone-mira: it can lock by lying alone. Worth knowing; it does not decide about a rule that locks.");
  });
});

describe("figures", () => {
  it("count further months both ways, and further wanted instants", () => {
    const { evidence, wrongPerYear, missedShare, delay } = inputOf({ wrong: 1, unverified: 1, served: 8, late: 1, missed: 1 }).figures;
    const months = (bound: number): number => ((bound / 0.5) * 365.25 - 31) / 30;
    expect(evidence.moreMonthsIfUnverifiedWrong).toBeCloseTo(months(6.2958), 2);
    expect(evidence.moreMonthsIfUnverifiedRight).toBeCloseTo(months(4.7439), 2);
    expect(evidence.moreWantedServed).toBe(36);
    expect(wrongPerYear.unverifiedAsRight.value).toBeCloseTo(365.25 / 31, 10);
    expect(wrongPerYear.unverifiedAsWrong.value).toBeCloseTo((2 * 365.25) / 31, 10);
    expect(missedShare.all).toMatchObject({ value: 0.1, count: 10 });
    expect(missedShare.verifiedOnly).toMatchObject({ value: null, count: 0 });
    expect(delay.median).toMatchObject({ value: 10, count: 9, unit: "seconds" });
  });

  it("ask for no more once the limit is met", () => {
    expect(inputOf({ days: 4000, served: 100 }).figures.evidence).toMatchObject({ moreMonthsIfUnverifiedWrong: 0, moreWantedServed: 0 });
  });

  it("take a year for 365.25 days", () => {
    expect(YEAR_MS).toBe(365.25 * DAY);
  });
});
