import { describe, expect, test } from "vitest";
import { oneInText } from "../../../src/judge/verdict/by-design.js";
import type { DesignFigures, DesignRoad } from "../../../src/result/design.js";
import { effects, judged, nothingInPractice, type Past } from "./past.js";

const figures: DesignFigures = { conditions: [], bound: 0.4, byChance: 0.3, byCommonCause: 0.1, slid: 0.01, breakEven: 0.04, rarer: "vehicles", days: 365, months: 12, sharedDaysChance: 0.6 };

function road(more: { readonly figures?: Partial<DesignFigures> } & Partial<Omit<DesignRoad, "figures">> = {}): DesignRoad {
  return { conditions: [], commonShare: 0.02, commonShareBecause: "meters and phones share no power", noSharedHoursBecause: null, tests: [], history: null, ...more, figures: { ...figures, ...more.figures } };
}

/** A year: far too short for counting, and all else well. */
const year: Past = { days: 365, right: 300, served: 300 };
const cleared: Past = { ...year, design: road() };

describe("a rule is cleared by design", () => {
  test("where counting alone leaves it open, and the sentence says which road, what was assumed and by whom", () => {
    expect(judged(year).verdict).toBe("not proven yet");
    const { verdict, sentence } = judged(cleared);
    expect(verdict).toBe("clear to enable");
    expect(sentence).toMatch(
      /^Clear to enable by design: a wrong unlock needs a false report about a vehicle and one about a person at the same time: at most 0\.4 a year \(limit 0\.5\); 0 of 300 wanted unlocks missed means at most \d(\.\d+)? % \(limit 10 %\), both 19 times in 20\. This rests on what you stated: at most 1 in 50 of the rarer kind of false report shares a cause with the other kind\. Counted: none wrong in 365 confirmed days\. Seen: October 2026;/,
    );
  });

  test("where nothing is stated too, which the sentence says", () => {
    const unstated = road({ commonShare: 0.1, commonShareBecause: null });
    expect(judged({ ...year, design: unstated }).sentence).toContain("that at most 1 in 10 of the rarer kind of false report shares a cause with the other kind");
  });

  test("and it names the statement that no hours are shared", () => {
    expect(judged({ ...year, design: road({ noSharedHoursBecause: "sun and night" }) }).sentence).toContain("and the two kinds share no hour of the day. Counted:");
  });

  test("also where nobody confirms some hour of the day, which only counting needs", () => {
    const night = [...new Array<number>(23).fill(365), 0];
    expect(judged({ ...cleared, confirmedHours: night }).verdict).toBe("clear to enable");
    expect(judged({ ...cleared, unclearShare: 0.3 }).verdict).toBe("clear to enable");
    expect(effects({ ...cleared, confirmedHours: night, unclearShare: 0.3 })).toEqual(expect.arrayContaining(["wrong-upper-bound noted", "unclear-time noted", "by-design clears"]));
  });

  test("at a bound that is just the limit", () => {
    expect(judged({ ...year, design: road({ figures: { bound: 0.5 } }) }).verdict).toBe("clear to enable");
    expect(judged({ ...year, design: road({ figures: { bound: 0.5 + 1e-9 } }) }).verdict).toBe("not proven yet");
  });

  test("but not named so where counting clears it as well", () => {
    expect(judged({ ...cleared, days: 2810 }).sentence).toMatch(/^Clear to enable: no wrong unlock in 7\.69 confirmed years/);
  });
});

describe("a rule is not cleared by design", () => {
  const refused = (past: Past): string => judged({ ...cleared, ...past }).verdict;

  test("where a condition of its structure or of its history fails, and the reason says which", () => {
    const cover = road({ conditions: [{ code: "cover", holds: false, text: "right_when ends too soon." }] });
    expect(refused({ design: cover })).toBe("not proven yet");
    expect(judged({ ...year, design: cover }).reasons.find(({ code }) => code === "by-design")).toMatchObject({ effect: "noted", measured: 0.4, limit: 0.5, text: expect.stringMatching(/ right_when ends too soon\.$/) as string });
    expect(refused({ design: road({ figures: { conditions: [{ code: "months", holds: false, text: "Too few." }] } }) })).toBe("not proven yet");
    expect(refused({ design: road({ conditions: [{ code: "tests", holds: false, text: "A test reached both." }] }) })).toBe("not proven yet");
  });

  test("where it has no two parts, and the reason is why", () => {
    const single: DesignRoad = { ...road(), conditions: [{ code: "parts", holds: false, text: "It can act without any report about a person." }], figures: null };
    expect(judged({ ...year, design: single }).reasons.find(({ code }) => code === "by-design")).toMatchObject({ effect: "noted", measured: null, text: "By design: It can act without any report about a person." });
    expect(refused({ design: single })).toBe("not proven yet");
  });

  test("where one signal or one cause alone could open", () => {
    expect(refused({ signals: ["phone-mira"] })).toBe("do not enable");
    expect(refused({ causes: ["board-a"] })).toBe("do not enable");
    expect(effects({ ...cleared, signals: ["phone-mira"] })).toContain("by-design noted");
  });

  test("where the bound is beyond the limit, and the reason says which statement would be enough", () => {
    const wide = road({ commonShare: 0.1, commonShareBecause: null, figures: { bound: 0.8, breakEven: 0.04 } });
    expect(refused({ design: wide })).toBe("not proven yet");
    expect(judged({ ...year, design: wide }).reasons.find(({ code }) => code === "by-design")?.text).toContain("It would be enough if at most 1 in 25 of the false reports about vehicles shared a cause with the other");
  });

  test("where the site file sets no limit", () => {
    expect(effects({ ...cleared, limits: null })).not.toContain("by-design clears");
    expect(refused({ limits: null })).toBe("not proven yet");
  });

  test("against what was seen: wrong firings, missed ones, too few wanted, deafness, bad periods, weekdays and clocks decide as ever", () => {
    expect(refused({ wrong: 5 })).toBe("do not enable");
    expect(refused({ served: 200, missed: 100 })).toBe("do not enable");
    expect(refused({ served: 10 })).toBe("not proven yet");
    expect(refused({ served: 0 })).toBe("not proven yet");
    expect(refused({ blindDays: 60 })).toBe("not proven yet");
    expect(refused({ uneven: ["Wrong unlocks come in some periods and not in others."] })).toBe("not proven yet");
    expect(refused({ weekdays: [4, 4, 4, 4, 4, 3, 0] })).toBe("not proven yet");
    expect(refused({ clocks: ["The clocks are apart."] })).toBe("not proven yet");
  });
});

test("one cause that would at times have been enough is told beside a rule that the design clears", () => {
  const board = { signals: [], causes: ["board-a"], text: "board-a alone", share: 0.015, hoursPerMonth: 10.5, expectedPerYear: { value: 3, high: 6, why: null } };
  const inPractice = { ...nothingInPractice, count: 1, sets: [board] };
  expect(effects({ ...year, inPractice })).toContain("single-in-practice open");
  expect(effects({ ...cleared, inPractice })).toContain("single-in-practice noted");
});

test("a share is told as one in so many, never as more than it is", () => {
  expect([1, 0.5, 0.1, 0.02, 1 / 3, 0.15, 0.051].map(oneInText)).toEqual(["all", "1 in 2", "1 in 10", "1 in 50", "1 in 3", "1 in 7", "1 in 20"]);
});
