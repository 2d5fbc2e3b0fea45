import { describe, expect, test } from "vitest";
import { findEpisodes } from "../../../src/truth/episodes/find.js";
import { scoreBays } from "../../../src/compare/bays/bays.js";
import { findDisagreements } from "../../../src/compare/signals/disagreements.js";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { MinuteSteps } from "../../truth/episodes/small-site.js";
import { accountOf, accountsOf, bookOf, brokenBook, MINUTE, minutes, signal, siteWith, subject } from "../../truth/episodes/small-site.js";

const END = 20_000;
const period = { from: 0, to: END * MINUTE };
const bays = ["bay-1", "bay-2", "bay-3", "bay-4"];
/** 48 visits of 200 minutes, every 400. */
const visits: MinuteSteps = [[0, 0], ...Array.from({ length: 48 }, (_, i): MinuteSteps => [[400 * i + 200, 1], [400 * i + 400, 0]]).flat()];
const everySecondMissed = visits.filter((_, step) => step === 0 || Math.ceil(step / 2) % 2 === 0);
const site = siteWith(
  [subject("mira", "person"), ...bays.map((bay) => subject(bay, "bay"))],
  bays.flatMap((bay) => [signal(`${bay}-overhead`, bay), signal(`${bay}-wall`, bay)]),
);
const truth = Object.fromEntries([...bays.map((bay) => [bay, minutes(END, visits)] as const), ["mira", minutes(END, [])]]);

function scored(accounts: ReadonlyMap<string, SignalAccount>, book = bookOf(truth)) {
  const { episodes } = findEpisodes(site, accounts, book, period);
  return scoreBays(site, book, scoreSignals(site, accounts, book, period), findDisagreements(site, accounts, book), episodes, period);
}
const healthy = accountsOf(...site.signals.map((one) => accountOf(one.id, minutes(END, visits))));

describe("scoreBays", () => {
  test("pools the signals of a bay, counts its arrivals, and takes its looks from one signal only", () => {
    const [first] = scored(healthy);
    expect(first).toMatchObject({
      bay: "bay-1", vehicle: "bay-1 van", arrivals: 48, departures: 48, signals: ["bay-1-overhead", "bay-1-wall"], knownShare: 1,
      missedShare: { value: 0, count: 96 }, phantomRate: { value: 0, count: 0 }, agreement: { value: 1, count: 97 },
    });
    expect(first!.occupiedShare).toBeCloseTo((48 * 200) / END);
    expect(first!.phantomRate.high).toBeCloseTo(3.6889 / ((2 * END) / 43_200), 3);
  });

  test("sends a person to the bay whose sensor misses every second visit, and to no other", () => {
    const scores = scored(new Map([...healthy, ["bay-3-wall", accountOf("bay-3-wall", minutes(END, everySecondMissed))]]));
    expect(scores.map((one) => one.faults.standsOut)).toEqual([false, false, true, false]);
    expect(scores[2]!.missedShare).toMatchObject({ value: 24 / 96, count: 96 });
    expect(scores[2]!.faults.count).toBe(48);
    expect(scores[0]!.faults.expected).toBeCloseTo(16);
  });

  test("a dead signal and a bay that nothing is known of do not stop the others", () => {
    const rest = Object.fromEntries(Object.entries(truth).filter(([about]) => about !== "bay-2"));
    const scores = scored(new Map([...healthy].filter(([id]) => id !== "bay-1-wall")), bookOf({ ...rest, "bay-2": minutes(END, []) }));
    expect(scores[0]).toMatchObject({ knownShare: 0.5, missedShare: { count: 48 } });
    expect(scores[1]).toMatchObject({ occupiedShare: null, arrivals: 0, knownShare: 1, missedShare: { value: null }, agreement: { value: null } });
    // Its two signals can still differ, and be compared in that with those of other bays.
    expect(scores[1]!.faults).toMatchObject({ count: 0, expected: 0 });
    expect(scores[3]!.faults.expected).toBe(0);
  });

  test("a fault of the program in the reference is passed on", () => {
    expect(() => scoreBays(site, brokenBook, [], [], [], period)).toThrow(TypeError);
  });

  test("a site without bays has no bay scores", () => {
    expect(scoreBays(siteWith([subject("mira", "person")], []), bookOf({}), [], [], [], period)).toEqual([]);
  });
});
