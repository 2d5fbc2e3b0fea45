import { describe, expect, it } from "vitest";
import { aloneInPractice, notedSinglePoints, practicalReasons, singlePointReasons, type SinglePointInput } from "../../../src/judge/verdict/single-points.js";
import type { LyingInPractice, PracticalSet } from "../../../src/result/rules.js";

const alone = (name: string, share: number, high: number | null): PracticalSet => ({
  signals: [name], causes: [], text: `${name} alone`, share, hoursPerMonth: share * 700,
  expectedPerYear: { value: high === null ? null : high / 2, high, why: high === null ? "not known" : null },
});
const together: PracticalSet = { ...alone("rail", 0.9, 0), signals: ["phone", "rail"], text: "phone and rail together" };
const nothing = { value: 0, high: 0, why: null };
const practice = (...sets: PracticalSet[]): LyingInPractice => ({ wrongHours: 700, upToSize: 2, count: sets.length, sets, expectedPerYear: { independent: nothing, withSharedCauses: nothing } });
const limits = { wrongPerYear: 0.5, missedShare: 0.1, withinMs: 120_000 };
const input = (inPractice: LyingInPractice, more: Partial<SinglePointInput> = {}): SinglePointInput => ({ act: "unlock", confidence: 0.95, limits, singlePoints: { signals: [], causes: [] }, inPractice, ...more });
const effect = (given: SinglePointInput): string | undefined => practicalReasons(given)[0]?.effect;

describe("single points in practice", () => {
  it("are sets of one; a set of two is none, however long it suffices", () => {
    expect(aloneInPractice(practice(together, alone("phone", 0.02, 1))).map((set) => set.text)).toEqual(["phone alone"]);
    expect(practicalReasons(input(practice(together)))).toEqual([]);
  });

  it("keep an opening rule open where they suffice for long and may lie too often", () => {
    expect(practicalReasons(input(practice(alone("phone", 0.06, 0.9), alone("rail", 0.002, 0.1))))).toEqual([
      {
        code: "single-in-practice",
        effect: "open",
        text: "When it would have been wrong to unlock, everything else was at times already true, and one alone would have been enough: phone for about 42 h a month (6 % of that time); rail for about 1.4 h a month (0.2 % of that time). At the measured rates that makes at most 1 wrong a year.",
        measured: 0.06,
        limit: 0.01,
        unit: "share",
      },
    ]);
  });

  it("keep it open where nobody knows how often they lie, or no limit is set", () => {
    expect(effect(input(practice(alone("phone", 0.06, null))))).toBe("open");
    expect(effect(input(practice(alone("phone", 0.06, 0)), { limits: null }))).toBe("open");
  });

  it("are only noted where even the most they may lie is within the limit, and clear where they hardly ever suffice", () => {
    expect(effect(input(practice(alone("phone", 0.06, 0.4))))).toBe("noted");
    expect(effect(input(practice(alone("phone", 0.004, 5))))).toBe("clears");
  });

  it("are judged at the limits exactly: as much as is allowed is allowed", () => {
    expect(effect(input(practice(alone("phone", 0.01, 5))))).toBe("clears");
    expect(effect(input(practice(alone("phone", 0.06, 0.5))))).toBe("noted");
    expect(effect(input(practice(alone("phone", 0.06, 0.3), alone("rail", 0.002, 0.21))))).toBe("open");
  });

  it("are only noted about a rule that locks, and only where it is much", () => {
    expect(effect(input(practice(alone("phone", 0.06, 0.9)), { act: "lock" }))).toBe("noted");
    expect(effect(input(practice(alone("phone", 0.004, 5)), { act: "arm" }))).toBeUndefined();
  });

  it("are not told again where the structure already has them", () => {
    expect(practicalReasons(input(practice(alone("phone", 1, 9)), { singlePoints: { signals: ["phone"], causes: [] } }))).toEqual([]);
  });
});

describe("single points by structure", () => {
  const nobody = practice();

  it("are told of one by one where a rule lets someone in", () => {
    const texts = (signals: readonly string[], causes: readonly string[]): string[] => singlePointReasons(input(nobody, { singlePoints: { signals, causes } })).map(({ text }) => text);
    expect(texts(["phone"], ["board-a", "hub"])).toEqual(["A false report from phone alone can unlock.", "A fault of board-a or hub alone can unlock."]);
    expect(texts([], ["hub"])).toEqual(["No false report from any one sensor can unlock while all others say the opposite.", "A fault of hub alone can unlock."]);
    expect(texts(["phone"], [])[1]).toBe("No fault of any one shared cause can unlock while all others say the opposite.");
  });

  it("are only noted, and only those there are, where it lets nobody in", () => {
    const given = input(nobody, { act: "arm", singlePoints: { signals: ["phone", "tag"], causes: [] } });
    expect(singlePointReasons(given)).toEqual([]);
    expect(notedSinglePoints(given).map(({ text }) => text)).toEqual(["A false report from phone or tag alone can arm. Worth knowing, but not used for arming rules."]);
    expect(notedSinglePoints({ ...given, act: "disarm" })).toEqual([]);
  });
});
