import { describe, expect, test } from "vitest";
import { sendFirst } from "../../../src/compare/fleets/send-first.js";
import type { FleetBayFinding, FleetPairFinding, FleetSignalFinding, FleetStanding } from "../../../src/result/fleet.js";

const calm: FleetStanding = {
  count: 1, expected: 1, controlLow: 0, controlHigh: 4, pooledRatio: 1, pooledLow: 0.5, pooledHigh: 2, pValue: 0.5, adjustedPValue: 0.6, standsOut: false,
};
const worse = (count: number): FleetStanding => ({ ...calm, count, adjustedPValue: 0.00004, standsOut: true });
const use = { days: 60, knownShare: 1, turns: 80, missedTurns: 3, phantoms: 2, judgedDays: 50, faults: calm, silences: calm };

function signalOf(signal: string, subject: string, parts: Partial<FleetSignalFinding> = {}): FleetSignalFinding {
  return { site: "yard", signal, subject, subjectClass: "bay", kind: "distance", model: null, firmware: null, ...use, ...parts };
}

function bayOf(bay: string, parts: Partial<FleetBayFinding> = {}): FleetBayFinding {
  return { site: "yard", bay, vehicle: null, arrivals: 40, departures: 40, signals: ["a", "b"], ...use, days: 120, ...parts };
}

describe("where to send someone first", () => {
  test("is nowhere while nothing stands out and every signal is known for half of its time", () => {
    expect(sendFirst([bayOf("bay-1")], [signalOf("a", "bay-1", { knownShare: 0.5 })], [])).toEqual([]);
  });

  test("weighs faults beyond what is expected in 30 days, by the bay or by its signals, whichever is more", () => {
    const visits = sendFirst([bayOf("bay-1", { faults: worse(9) })], [signalOf("a", "bay-1", { faults: worse(21), silences: worse(3) })], []);
    expect(visits).toEqual([
      {
        site: "yard",
        subject: "bay-1",
        // (21 − 1) / 2 months and (3 − 1) / 2; the bay alone: (9 − 1) / 2.
        weight: 11,
        reasons: [
          "a: 21 faults; typical for the other signals would be about 1, at most 4. It missed 3 of 80 changes, and reported 2 that did not happen.",
          "a: 3 silences; typical for the other signals would be about 1, at most 4.",
          "The bay: 9 faults; typical for the other bays would be about 1, at most 4.",
        ],
      },
    ]);
  });

  test("adds the days in 30 in which a signal was dark, and never weighs what is better than expected", () => {
    expect(sendFirst([], [signalOf("a", "door", { knownShare: 0.49 })], [])).toMatchObject([{ weight: 0.51 * 30, reasons: ["a: silent or unusable most of the time, known for only 49 %."] }]);
    expect(sendFirst([], [signalOf("a", "door", { knownShare: 0, days: 0 })], [])).toEqual([]);
    expect(sendFirst([bayOf("bay-1", { faults: { ...worse(0), expected: 5 }, days: 0 })], [], [])).toMatchObject([{ weight: 0 }]);
  });

  test("names both of a pair that differs, and the one to look at first where a sign says so", () => {
    const pair: FleetPairFinding = { site: "yard", subject: "bay-1", signals: ["a", "b"], days: 30, disagreements: { ...worse(6), adjustedPValue: 0.0123 }, lookFirst: null };
    const text = "a and b differ: 6 disagreements; typical for the other pairs would be about 1, at most 4. Nobody can tell which of the two is wrong: look at both";
    expect(sendFirst([], [], [pair])).toEqual([{ site: "yard", subject: "bay-1", weight: 5, reasons: [`${text}.`] }]);
    expect(sendFirst([], [], [{ ...pair, lookFirst: { signal: "b", why: "it flickers" } }])[0]!.reasons).toEqual([`${text}, first at b: it flickers.`]);
    expect(sendFirst([], [], [{ ...pair, disagreements: calm }])).toEqual([]);
  });

  test("is at most ten places, the heaviest first and equals by name", () => {
    const many = Array.from({ length: 12 }, (_, i) => signalOf(`s${i}`, `door-${String.fromCharCode(97 + i)}`, { faults: worse(i < 2 ? 5 : 3 + (i % 2) * 40) }));
    const places = sendFirst([], many, []).map(({ subject }) => subject);
    expect(places).toEqual(["door-d", "door-f", "door-h", "door-j", "door-l", "door-a", "door-b", "door-c", "door-e", "door-g"]);
  });
});
