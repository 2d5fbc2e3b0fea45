import { describe, expect, test } from "vitest";
import { basisAround, chargingTimeline, isCharged, vouchedEnough } from "../../../src/truth/episodes/charging.js";
import type { Basis, ReferenceSegment } from "../../../src/truth/reference/reference.js";
import { MINUTE, minutes } from "./small-site.js";

/** Stretches of a reference over 1000 minutes, told as `[from, state, basis]`. */
function reference(...told: readonly (readonly [number, 0 | 1, Basis])[]) {
  const segments = told.map(([from, state, basis], i): ReferenceSegment => ({ from: from * MINUTE, to: (told[i + 1]?.[0] ?? 1000) * MINUTE, state, probability: 0.99, basis, vouchers: [] }));
  return { segments, timeline: minutes(1000, told.map(([from, state]) => [from, state] as const)) };
}

const saidOn = (from: number, to: number) => ({ said: 1 as const, from: from * MINUTE, to: to * MINUTE, sort: "phantom" as const, takenBack: true });

describe("a false stretch", () => {
  test("is charged on the word of the diary or of several, not on that of one", () => {
    const charged = (basis: Basis): boolean => isCharged(saidOn(100, 110), reference([0, 0, basis]), 10 * MINUTE);
    expect([charged("diary"), charged("several"), charged("one")]).toEqual([true, true, false]);
  });

  test("is charged when they speak for half of it, or for longer than `join`", () => {
    const spoken = (minutesSpoken: number): boolean => isCharged(saidOn(100, 200), reference([0, 0, "one"], [100, 0, "several"], [100 + minutesSpoken, 0, "one"]), 10 * MINUTE);
    expect([spoken(1), spoken(10), spoken(11), spoken(60)]).toEqual([false, false, true, true]);
    expect([vouchedEnough(5, 10, 100), vouchedEnough(4, 10, 100), vouchedEnough(0, 0, 100)]).toEqual([true, false, false]);
  });

  test("is not charged for the time in which the reference agrees with it", () => {
    expect(isCharged(saidOn(100, 200), reference([0, 0, "one"], [110, 1, "several"]), 10 * MINUTE)).toBe(false);
  });
});

describe("a turn", () => {
  test("rests on the weaker of its sides, the one before the gap in which it happened and the one from it on", () => {
    const { segments } = reference([0, 0, "diary"], [100, 1, "one"], [200, 0, "several"], [300, 1, "diary"]);
    const at = (earliest: number, minute: number): Basis => basisAround({ segments }, { at: minute * MINUTE, earliest: earliest * MINUTE });
    expect([at(100, 100), at(200, 200), at(300, 300), at(100, 300)]).toEqual(["one", "one", "several", "diary"]);
  });
});

test("where one other witness speaks nothing can be charged, and the charging timeline is unknown", () => {
  expect(chargingTimeline(reference([0, 0, "several"], [100, 1, "one"], [200, 0, "diary"]))).toEqual(minutes(1000, [[0, 0], [100, 2], [200, 0]]));
});
