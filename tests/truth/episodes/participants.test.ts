import { describe, expect, test } from "vitest";
import type { Basis } from "../../../src/truth/reference/reference.js";
import { participant, responsesOf } from "../../../src/truth/episodes/participants.js";
import type { MinuteSteps } from "./small-site.js";
import { accountOf, MINUTE, minutes, referenceOf } from "./small-site.js";

const settings = { joinMs: 10 * MINUTE, bridgeMs: 2 * MINUTE };
const twoVisits = minutes(900, [[0, 0], [100, 1], [200, 0], [400, 1], [500, 0]]);

function arrivals(steps: MinuteSteps, basis: Basis = "several"): string[] {
  const partOf = responsesOf(accountOf("s", minutes(900, steps)), referenceOf("bay-1", twoVisits, [], basis), referenceOf("bay-1", twoVisits), settings);
  return [0, 1].map((index) => partOf({ to: 1, index })).map(({ outcome, lagMs }) => (lagMs === null ? outcome : `${outcome} ${lagMs / MINUTE}`));
}

describe("what a signal makes of an arrival", () => {
  test("agreed within a minute, late and early beyond it", () => {
    expect(arrivals([[0, 0], [101, 1], [200, 0], [399.5, 1], [500, 0]])).toEqual(["agreed 1", "agreed -0.5"]);
    expect(arrivals([[0, 0], [104, 1], [200, 0], [395, 1], [500, 0]])).toEqual(["late 4", "early -5"]);
  });
  test("missed when it was known and did not turn, unknown when it was blind", () => {
    expect(arrivals([[0, 0], [390, 2], [450, 1], [500, 0]])).toEqual(["missed", "unknown"]);
  });
  test("stuck on through the arrival is missed too", () => {
    expect(arrivals([[0, 1]])).toEqual(["missed", "missed"]);
  });
  test("fragmented when it turned on again during the visit, but not when it did so after it", () => {
    expect(arrivals([[0, 0], [100, 1], [150, 0], [152, 1], [200, 0], [300, 1], [310, 0], [400, 1], [500, 0]])).toEqual(["fragmented 0", "agreed 0"]);
  });
  test("neither missed nor fragmented where one other witness says so: nobody knows which of the two is wrong", () => {
    expect(arrivals([[0, 0], [400, 1], [450, 0], [460, 1], [500, 0]], "one")).toEqual(["unknown", "agreed 0"]);
  });
  test("a turn inside a bridged gap is late only if it was late wherever in the gap it happened", () => {
    expect(arrivals([[0, 0], [100.5, 2], [102.5, 1], [200, 0], [402, 2], [403, 1]])).toEqual(["agreed 1.5", "late 2.5"]);
  });
});

describe("a delay", () => {
  const delays = (others: MinuteSteps): (string | number | null)[] => {
    const own = minutes(900, [[0, 0], [103, 1], [200, 0], [400, 1], [500, 0]]);
    const partOf = responsesOf(accountOf("s", own), referenceOf("bay-1", own), referenceOf("bay-1", minutes(900, others), ["s"]), settings);
    return [0, 1].map((index) => partOf({ to: 1, index })).flatMap(({ outcome, lagMs }) => [outcome, lagMs === null ? null : lagMs / MINUTE]);
  };
  test("is measured against the others, though the signal's own vote made the arrival what it is", () => {
    expect(delays([[0, 0], [100, 1], [200, 0], [399, 1], [500, 0]])).toEqual(["agreed", 3, "agreed", 1]);
  });
  test("is none, and nothing is said of how prompt it was, where nobody else saw the arrival", () => {
    expect(delays([[0, 0], [100, 1], [200, 0]])).toEqual(["agreed", 3, "unknown", null]);
    expect(delays([])).toEqual(["unknown", null, "unknown", null]);
  });
});

describe("participant", () => {
  test("takes the worst of a door's movements, and of equals the longest lag", () => {
    const agreed = { outcome: "agreed", lagMs: -20_000 } as const;
    expect(participant("rail", "yard-door", [agreed, { outcome: "missed", lagMs: null }])).toEqual({ signal: "rail", subject: "yard-door", outcome: "missed", lagSeconds: null });
    expect(participant("rail", "yard-door", [{ outcome: "unknown", lagMs: null }, { outcome: "agreed", lagMs: 5_000 }, agreed]).lagSeconds).toBe(-20);
  });
  test("is unknown when nothing could be judged", () => {
    expect(participant("rail", "yard-door", []).outcome).toBe("unknown");
  });
});
