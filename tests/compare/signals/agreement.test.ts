import { describe, expect, test } from "vitest";
import { agreementWith, countLooks, judgedAgainst } from "../../../src/compare/signals/agreement.js";
import type { Basis, ReferenceSegment } from "../../../src/truth/reference/reference.js";
import { MINUTE, minutes } from "../../truth/episodes/small-site.js";

const reference = minutes(1000, [[0, 0], [200, 1], [400, 0], [500, 2], [600, 0], [800, 1]]);

describe("agreement with a reference", () => {
  test("is a share of the time at which both are known, in all and by the reference's state", () => {
    const account = minutes(1000, [[0, 0], [250, 1], [400, 0], [900, 2]]);
    const { agreement, agreementGivenOn, agreementGivenOff } = agreementWith(account, reference, 0.95);
    // Jointly known: 0–500 and 600–900. Wrong: 200–250 (late) and 800–900 (missed).
    expect(agreement.value).toBeCloseTo(650 / 800);
    expect(agreementGivenOn.value).toBeCloseTo(150 / 300);
    expect(agreementGivenOff.value).toBe(1);
  });
  test("is told with the hours it rests on, by who vouches, and those in which both sides differ with nobody to judge", () => {
    const account = minutes(1000, [[0, 0], [250, 1], [400, 0], [900, 2]]);
    const segment = (from: number, to: number, state: 0 | 1 | 2, basis: Basis, vouchers: readonly string[] = []): ReferenceSegment => ({ from: from * MINUTE, to: to * MINUTE, state, probability: 0.9, basis, vouchers });
    const segments = [segment(0, 200, 0, "several", ["rail", "mat"]), segment(200, 400, 1, "diary"), segment(400, 500, 0, "one", ["mat"]), segment(500, 600, 2, "none"), segment(600, 800, 0, "several", ["rail", "mat"]), segment(800, 1000, 1, "none")];
    const judged = judgedAgainst(account, { subject: "bay", excluding: [], timeline: reference, segments }, { from: 0, to: 1000 * MINUTE });
    expect(judged.hours).toEqual({ diary: 200 / 60, several: 400 / 60, one: 100 / 60, none: 300 / 60 });
    expect(judged.witnesses).toEqual(["mat", "rail"]);
    // Jointly known for 800 minutes; of them the diary or several vouch for 0–400 and 600–800.
    expect(judged.jointHours).toEqual({ charged: 600 / 60, disputed: 200 / 60 });
  });
  test("counts one look a stretch between transitions, however long, and unknown time does not make two of one", () => {
    expect(countLooks(minutes(1000, [[0, 0]]), reference)).toEqual({ off: 2, on: 2 });
    expect(countLooks(minutes(1000, [[0, 0], [300, 2], [850, 0]]), reference)).toEqual({ off: 1, on: 2 });
    expect(agreementWith(minutes(1000, [[0, 0]]), reference, 0.95).agreement.count).toBe(4);
  });
  test("is null with a reason where the two never meet", () => {
    const { agreement, agreementGivenOn } = agreementWith(minutes(1000, [[0, 0]]), minutes(1000, []), 0.95);
    expect(agreement).toMatchObject({ value: null, low: null, why: "the signal and what happened were never known at the same time" });
    expect(agreementGivenOn.value).toBeNull();
  });
});
