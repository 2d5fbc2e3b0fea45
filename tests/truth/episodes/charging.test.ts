import { describe, expect, test } from "vitest";
import { basisAround, chargedStretches, chargingTimeline, judgedTurns, vouchedEnough } from "../../../src/truth/episodes/charging.js";
import type { Basis, Reference, ReferenceSegment } from "../../../src/truth/reference/reference.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { accountOf, MINUTE, minutes } from "./small-site.js";

/** Stretches of a reference over 1000 minutes, told as `[from, state, basis]`. */
function reference(...told: readonly (readonly [number, TruthState, Basis])[]): Reference {
  const segments = told.map(([from, state, basis], i): ReferenceSegment => ({ from: from * MINUTE, to: (told[i + 1]?.[0] ?? 1000) * MINUTE, state, probability: 0.99, basis, vouchers: [] }));
  return { subject: "bay-1", excluding: ["s"], segments, timeline: minutes(1000, told.map(([from, state]) => [from, state] as const)) };
}

const settings = { joinMs: 10 * MINUTE, bridgeMs: 2 * MINUTE };

/** What is charged to a signal that says on over these minutes, as `[from, to]`. */
function chargedTo(from: number, to: number, against: Reference): [number, number][] {
  const account = accountOf("s", minutes(1000, [[0, 0], [from, 1], [to, 0]]));
  return chargedStretches(account, against, judgedTurns(account, against, settings), settings).map((one) => [one.from / MINUTE, one.to / MINUTE]);
}

describe("a false stretch", () => {
  test("is charged on the word of the diary or of several, not on that of one", () => {
    const charged = (basis: Basis) => chargedTo(100, 110, reference([0, 0, basis]));
    expect([charged("diary"), charged("several"), charged("one")]).toEqual([[[100, 110]], [[100, 110]], []]);
  });

  test("is charged when they speak for half of it, or for longer than `join`", () => {
    const spoken = (minutesSpoken: number, to = 200): number => chargedTo(100, to, reference([0, 0, "one"], [100, 0, "several"], [100 + minutesSpoken, 0, "one"])).length;
    expect([spoken(1), spoken(10), spoken(11), spoken(60)]).toEqual([0, 0, 1, 1]);
    expect([spoken(4, 110), spoken(5, 110)]).toEqual([0, 1]);
    expect([vouchedEnough(5, 10, 100), vouchedEnough(4, 10, 100), vouchedEnough(0, 0, 100)]).toEqual([true, false, false]);
  });

  test("is judged by the time in which the reference contradicts it, not by that in which it knows nothing", () => {
    expect(chargedTo(100, 200, reference([0, 0, "several"], [105, 2, "none"], [195, 0, "one"]))).toEqual([[100, 200]]);
    expect(chargedTo(100, 200, reference([0, 0, "several"], [105, 2, "none"], [194, 0, "one"]))).toEqual([]);
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
