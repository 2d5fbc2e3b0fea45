import { describe, expect, it } from "vitest";
import { YEAR_MS } from "../../../src/ground/units.js";
import { DAY, effects, even, inputOf, judged, nothingInPractice, type Past } from "./past.js";

describe("clear to enable", () => {
  // 3.8423 / 0.5 is 7.68 years: a bound that holds at every monthly look asks for more than a single look's 5.99.
  const proven: Past = { days: 2810, right: 60, served: 60 };

  it("needs enough years and enough wanted instants without a fault, and says for which months it holds and until when", () => {
    const { verdict, sentence, reasons } = judged(proven);
    expect(verdict).toBe("clear to enable");
    expect(new Set(reasons.map((reason) => reason.effect))).toEqual(new Set(["clears", "noted"]));
    expect(sentence).toBe(
      "Clear to enable: no wrong unlock in 7.69 confirmed years means at most 0.5 a year (limit 0.5); 0 of 60 wanted unlocks missed means at most 6.2 % (limit 10 %), both 19 times in 20. " +
        "Seen: October 2026; it holds for months like those. Look again by 1 February 2027, and at once when a sensor, its band or the rule changes.",
    );
  });

  it("is refused where a single look's bound would do", () => {
    expect(judged({ ...proven, days: 2250 }).verdict).toBe("not proven yet");
  });

  it("counts a late wanted instant like a missed one", () => {
    expect(judged({ ...proven, served: 40, late: 20 }).verdict).toBe("do not enable");
    expect(judged({ ...proven, served: 58, late: 2 }).verdict).toBe("not proven yet");
    expect(judged({ ...proven, served: 58, late: 2 }).sentence).toContain("missed and 2 late still allows up to");
  });

  it("is met at equality with the limit, and not just above it", () => {
    const measured = judged(proven).bounds.wrongUpper;
    expect(judged({ ...proven, limits: { wrongPerYear: measured } }).verdict).toBe("clear to enable");
    expect(judged({ ...proven, limits: { wrongPerYear: measured * (1 - 1e-9) } }).verdict).toBe("not proven yet");
    const share = judged(proven).bounds.missedUpper;
    expect(judged({ ...proven, limits: { missedShare: share } }).verdict).toBe("clear to enable");
    expect(judged({ ...proven, limits: { missedShare: share * (1 - 1e-9) } }).verdict).toBe("not proven yet");
  });

  it("needs four of each weekday", () => {
    const { verdict, sentence } = judged({ ...proven, weekdays: [4, 4, 4, 4, 4, 3, 0] });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toBe("Not proven yet: fewer than 4 were seen of Saturday and Sunday; a clear verdict takes at least four weeks.");
  });
});

describe("faults in clumps", () => {
  it("are allowed for where too few were seen to tell how they come: one bad spell may bring four", () => {
    const unseen = judged({ days: 2810, right: 60, served: 60, faultsByDay: [] });
    expect(unseen.verdict).toBe("not proven yet");
    expect(unseen.bounds.wrongUpper).toBeCloseTo(4 * judged({ days: 2810, right: 60, served: 60 }).bounds.wrongUpper, 9);
  });

  it("widen the bound when all of them came on a few days", () => {
    const clumpy = judged({ days: 365, right: 60, served: 60, faultsByDay: [20, 1] });
    expect(clumpy.bounds.wrongUpper).toBeGreaterThan(10 * judged({ days: 365, right: 60, served: 60 }).bounds.wrongUpper);
  });

  it("count as one occasion for the lower bound, and the reason says how they were joined", () => {
    const night = { days: 3650, right: 40, wrong: 10, served: 40, wrongOccasions: [10], limits: { wrongPerYear: 0.5 } };
    expect(judged(night).verdict).toBe("not proven yet");
    expect(judged({ ...night, wrongOccasions: even(20) }).verdict).toBe("do not enable");
    expect(judged(night).reasons.find((one) => one.code === "wrong-upper-bound")?.text).toContain("(counted as 1 occasion: less than 6 h apart is one)");
  });

  it("of misses count as one run", () => {
    const week = { days: 365, served: 186, missed: 14, failureRuns: [14], limits: { missedShare: 0.03, wrongPerYear: 40 } };
    expect(judged(week).verdict).toBe("not proven yet");
    expect(judged({ ...week, failureRuns: even(28) }).verdict).toBe("do not enable");
  });
});

describe("the best of several variants tried on one history", () => {
  it("must be shown with its part of the doubt only", () => {
    const alone = { days: 2810, right: 60, served: 60 };
    expect(judged({ ...alone, variants: 10 }).verdict).toBe("not proven yet");
    expect(judged({ ...alone, variants: 10 }).reasons.find((one) => one.code === "wrong-upper-bound")?.text).toContain("as the best of 10 variants tried on this history");
  });
});

describe("not proven yet", () => {
  it("is what a month without a wrong unlock amounts to", () => {
    const { verdict, sentence } = judged({ right: 40, served: 40 });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toBe(
      "Not proven yet: no wrong unlock in 31 confirmed days allows up to 46 a year; the limit is 0.5. Even 24 more months like these could show no better than 1.9 a year by counting.",
    );
  });

  it("is what quiet years amount to when only half of each hour would have been confirmed", () => {
    expect(judged({ days: 2810, confirmedDays: 1405, right: 60, served: 60 }).verdict).toBe("not proven yet");
    expect(judged({ days: 5620, confirmedDays: 2810, right: 60, served: 60 }).verdict).toBe("clear to enable");
  });

  it("is what quiet years amount to when one hour of the day is never confirmed, and the sentence names it", () => {
    const { verdict, sentence, reasons } = judged({ days: 2810, right: 60, unverified: 60, served: 60, confirmedHours: [...new Array<number>(23).fill(2810), 0] });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toBe(
      "Not proven yet: no wrong unlock in 7.69 years, with nothing confirmed from 23:00 to 00:00 and with 60 unlocks that nobody confirmed counted as wrong, allows up to 12 a year; the limit is 0.5. Even 24 more months like these could show no better than 12 a year by counting.",
    );
    expect(reasons.find((reason) => reason.code === "wrong-upper-bound")?.measured).toBeGreaterThan(60 / 7.69);
  });

  it("is what unverified firings amount to that the hours in which nobody could tell do not explain: they are taken as wrong", () => {
    const past: Past = { days: 3500, right: 60, unverified: 6, served: 60 };
    expect(judged({ ...past, expectedUnverified: { firings: 1, wanted: 0 } }).verdict).toBe("not proven yet");
    expect(judged({ ...past, expectedUnverified: { firings: 1, wanted: 0 } }).bounds.wrongUpper).toBeCloseTo(judged({ ...past, unverified: 0, wrong: 6 }).bounds.wrongUpper, 9);
    expect(judged({ ...past, expectedUnverified: { firings: 5, wanted: 0 } }).verdict).toBe("clear to enable");
  });

  it("is what wanted instants amount to that nobody confirms: they show nothing, and those no hour explains count as missed", () => {
    const seen: Past = { days: 2810, right: 60 };
    expect(judged({ ...seen, served: 0, unverifiedWanted: 36 }).verdict).toBe("not proven yet");
    const many: Past = { ...seen, served: 60, unverifiedWanted: 30 };
    expect(judged(many).bounds.missedUpper).toBe(judged({ ...seen, served: 60 }).bounds.missedUpper);
    expect(judged(many).verdict).toBe("clear to enable");
    expect(judged({ ...many, expectedUnverified: { firings: 0, wanted: 3 } })).toMatchObject({ verdict: "not proven yet", bounds: { missedLower: 0 } });
  });

  it("is said when for more than a tenth of the time nobody can say whether acting was wanted", () => {
    const past = { days: 2810, right: 60, served: 60, unclearShare: 0.11 };
    expect(judged(past).verdict).toBe("not proven yet");
    expect(judged(past).sentence).toBe(
      "Not proven yet: for 11 % of the time nobody can tell whether an unlock was wanted: neither the diary nor two independent sensors that the rule does not use. More than 10 % is too much to judge by; a longer diary helps.",
    );
    expect(judged({ ...past, unclearShare: 0.1 }).verdict).toBe("clear to enable");
  });

  it("is not said for days without a diary if their unlocks were checked; it is if they were not, and for hours of every day", () => {
    const list = { firings: 60, drawn: 60, wrongDrawn: 0, wrong: 0, unverified: 0 };
    const past = { days: 5000, right: 60, served: 60, unclearShare: 0.35, unclearDaysShare: 0.3, checked: [list] };
    expect(judged(past).verdict).toBe("clear to enable");
    expect(judged(past).reasons.find(({ code }) => code === "unclear-time")?.text).toBe(
      "For 35 % of the time nobody can tell whether an unlock was wanted: neither the diary nor two independent sensors that the rule does not use. Most of that is on days without a diary, and the unlocks on those days were checked.",
    );
    expect(judged({ ...past, unclearDaysShare: 0 }).verdict).toBe("not proven yet");
    expect(judged({ ...past, unverified: 20, checked: [{ ...list, firings: 80, drawn: 0, unverified: 20 }] }).verdict).toBe("not proven yet");
  });

  it("is said while clocks are too far apart to judge by, also where the counts would forbid the rule", () => {
    const text = "The clocks of phones and board-log are 3,600 s apart: set zone: in the site file.";
    const past = { right: 40, wrong: 30, served: 40, clocks: [text] };
    expect(judged({ ...past, clocks: [] }).verdict).toBe("do not enable");
    expect(judged(past).verdict).toBe("not proven yet");
    expect(judged(past).sentence).toBe("Not proven yet: the clocks of phones and board-log are 3,600 s apart: set zone: in the site file.");
    expect(judged({ ...past, signals: ["phone-mira"] }).verdict).toBe("do not enable");
  });

  it("is said when faults come in some periods and not in others", () => {
    const past = { days: 2810, right: 60, served: 60, uneven: ["Wrong unlocks come in some periods and not in others (a: 9, b: 0, c: 0), so their sum says little about the next."] };
    expect(judged(past).verdict).toBe("not proven yet");
  });

  it("does not put off to time what time does not mend", () => {
    const board = { signals: [], causes: ["board-a"], text: "board-a alone", share: 0.015, hoursPerMonth: 10.5, expectedPerYear: { value: 0.3, high: 0.6, why: null } };
    expect(judged({ right: 40, served: 40, inPractice: { ...nothingInPractice, count: 1, sets: [board] } }).sentence).toMatch(
      /could show no better than 1\.9 a year by counting\. More history won't help with this: board-a alone could sometimes unlock\.$/,
    );
  });

  it("is said when nothing was ever wanted", () => {
    const past = { days: 2810, cutOff: 1 };
    expect(judged(past).verdict).toBe("not proven yet");
    expect(judged(past).sentence).toBe("Not proven yet: no unlock was wanted in 7.69 years, so nothing shows that the rule acts when it should.");
    expect(judged(past).reasons.find((reason) => reason.code === "nothing-wanted")?.text).toContain("Not counted, as the history ends too soon after");
  });

  it("is said when too few were wanted to rule out that too many are missed", () => {
    expect(judged({ days: 2810, right: 10, served: 10 }).sentence).toMatch(
      /^Not proven yet: 0 of 10 wanted unlocks missed still allows up to \d+(\.\d)? %; the limit is 10 %\. Another 27 wanted unlocks, all confirmed and in time, would show it\.$/,
    );
  });

  it("is said without limits, whatever was seen", () => {
    const past = { act: "arm" as const, days: 20_000, right: 40, served: 40, limits: null };
    expect(judged(past).verdict).toBe("not proven yet");
    expect(effects(past)).toEqual(["no-limits open", "days-seen clears", "holds-for noted"]);
    expect(judged(past).sentence).toMatch(/^Not proven yet: the site file sets no limits for arm; no wrong arming in 54\.8 confirmed years allows up to 0\.07\d* a year\.$/);
  });

  it("is said when the rule was deaf for too much of the time, and such time is not counted as seen", () => {
    const past = { days: 9000, blindDays: 1000, right: 60, served: 60 };
    expect(inputOf(past).figures.evidence).toMatchObject({ yearsSeen: 8000 / 365.25, blindShare: 1 / 9 });
    expect(judged(past).verdict).toBe("not proven yet");
    expect(judged(past).sentence).toContain("Not proven yet: for 12 % of the time a sensor was missing, so the");
    expect(effects({ days: 9000, blindDays: 400, right: 60, served: 60 })).toContain("blind-time clears");
  });

  it("holds when the rule was deaf all the time: no time seen allows any number", () => {
    const { verdict, sentence, reasons } = judged({ blindDays: 31 });
    expect(verdict).toBe("not proven yet");
    expect(sentence).toContain("no wrong unlock with nothing confirmed at any hour allows up to any number a year");
    expect(reasons.find((reason) => reason.code === "wrong-upper-bound")?.measured).toBeNull();
  });

  it("says what two more years would show when no length of time can show the limit", () => {
    const { sentence } = judged({ right: 1, served: 1, limits: { wrongPerYear: 0 } });
    expect(sentence).toContain("the limit is 0. Even 24 more months like these could show no better than 1.9 a year");
    expect(inputOf({ limits: { wrongPerYear: 0 } }).figures.evidence.moreMonths).toBeNull();
  });
});

describe("do not enable", () => {
  it("is said when even the lower bound of wrong unlocks breaks the limit", () => {
    const past = { right: 40, wrong: 1, served: 40 };
    expect(judged(past).verdict).toBe("do not enable");
    expect(judged(past).sentence).toBe("Do not enable: 1 wrong unlock in 31 days means at least 0.6 a year (19 times in 20); the limit is 0.5.");
    expect(effects(past)).toContain("wrong-lower-bound breaks");
  });

  it("is not said for a lower bound at the limit itself", () => {
    const past = { right: 40, wrong: 1, served: 40 };
    expect(judged({ ...past, limits: { wrongPerYear: judged(past).bounds.wrongLower } }).verdict).toBe("not proven yet");
  });

  it("is not said for firings that nobody could verify, however many", () => {
    expect(judged({ unverified: 50, served: 50 }).verdict).toBe("not proven yet");
  });

  it("is said when too many wanted unlocks were missed", () => {
    expect(judged({ days: 2810, right: 10, served: 10, missed: 10 }).sentence).toBe(
      "Do not enable: 10 of 20 wanted unlocks missed means at least 30 % (19 times in 20); the limit is 10 %.",
    );
  });

  it("is said when one signal or one shared cause alone could open, with or without limits", () => {
    const proven = { days: 2810, right: 60, served: 60 };
    expect(judged({ ...proven, signals: ["phone-mira"] }).sentence).toBe("Do not enable: a false report from phone-mira alone would unlock.");
    expect(judged({ ...proven, causes: ["board-a", "hub"] }).sentence).toBe("Do not enable: a fault of board-a or hub alone would unlock.");
    expect(judged({ ...proven, act: "disarm", signals: ["phone-mira"], limits: null }).verdict).toBe("do not enable");
  });
});

describe("a rule that shuts", () => {
  it("is told of its single points, which do not decide", () => {
    const past = { act: "lock" as const, days: 2810, right: 60, served: 60, signals: ["phone-mira"] };
    expect(judged(past).verdict).toBe("clear to enable");
    expect(effects(past)).toEqual(["wrong-upper-bound clears", "missed-upper-bound clears", "days-seen clears", "holds-for noted", "single-signal noted"]);
    expect(judged(past).reasons.at(-1)?.text).toBe("A false report from phone-mira alone can lock. Worth knowing, but not used for locking rules.");
  });
});

describe("figures", () => {
  it("carry their counts, and take unverified ones both ways", () => {
    const { wrongPerYear, missedShare, delay, wanted } = inputOf({ wrong: 1, unverified: 1, served: 7, late: 1, missed: 1, unverifiedWanted: 1 }).figures;
    expect(wrongPerYear.unverifiedAsRight).toMatchObject({ hits: 1, exposure: 31 / 365.25 });
    expect(wrongPerYear.unverifiedAsRight.value).toBeCloseTo(365.25 / 31, 10);
    expect(wrongPerYear.unverifiedAsWrong).toMatchObject({ hits: 2 });
    expect(missedShare.unverifiedAsServed).toMatchObject({ hits: 2, exposure: 10 });
    expect(missedShare.unverifiedAsMissed).toMatchObject({ hits: 3, exposure: 10 });
    expect(wanted).toMatchObject({ count: 10, verified: 9, verifiedFailed: 2 });
    expect(delay.median).toMatchObject({ value: 10, count: 8, unit: "seconds" });
  });

  it("say how much is still needed: with that much more, the limit is met", () => {
    const past: Past = { wrong: 1, right: 30, served: 28, late: 1, missed: 1, limits: { wrongPerYear: 12 } };
    const { evidence } = inputOf(past).figures;
    const days = 31 + (evidence.moreMonths ?? NaN) * 30;
    expect(judged({ ...past, days, faultsByDay: even(400) }).bounds.wrongUpper).toBeCloseTo(12, 6);
    const more = evidence.moreWantedServed ?? NaN;
    expect(judged({ ...past, served: 28 + more }).bounds.missedUpper).toBeLessThanOrEqual(0.1);
    expect(judged({ ...past, served: 28 + more - 2 }).bounds.missedUpper).toBeGreaterThan(0.1);
  });

  it("at the observed rate ask for more time, or say that no time is enough", () => {
    const slow: Past = { wrong: 1, days: 365, right: 30, served: 99, missed: 1, limits: { wrongPerYear: 4 } };
    const { atObservedRate } = inputOf(slow).figures.evidence;
    expect(atObservedRate.moreMonths).toBeGreaterThan(0);
    expect(atObservedRate.moreWanted).toBe(0);
    expect(inputOf({ ...slow, limits: { wrongPerYear: 1 } }).figures.evidence.atObservedRate.moreMonths).toBeNull();
    expect(inputOf({ ...slow, limits: null }).figures.evidence.atObservedRate).toEqual({ moreMonths: null, moreWanted: null });
  });

  it("ask for no more once the limit is met", () => {
    expect(inputOf({ days: 4000, served: 100 }).figures.evidence).toMatchObject({ moreMonths: 0, moreWantedServed: 0 });
  });

  it("take a year for 365.25 days", () => {
    expect(YEAR_MS).toBe(365.25 * DAY);
  });
});
