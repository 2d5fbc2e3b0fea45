import { describe, expect, test } from "vitest";
import { fleetPairs, measuredPairs, pairFindings } from "../../../src/compare/fleets/pairs.js";
import { fleetSignals, type FleetSignal } from "../../../src/compare/fleets/units.js";
import type { Counts } from "../../../src/result/counts.js";
import { simulatedFleet } from "../../study/simulated-fleet.js";

const [plain] = simulatedFleet({ bays: 1, baysASite: 1, worse: [], times: 1, shape: Infinity, seed: 4 });

/** A month of one bay with two meters that differed `count` times in `jointDays`. */
function month(count: number, jointDays: number, change: (one: Counts["signals"][number], i: number) => object = () => ({})): Counts {
  const signals = plain!.signals.map((one, i) => ({ ...one, disagreements: [{ with: plain!.signals[1 - i]!.signal, count, jointDays }], ...change(one, i) }));
  return { ...plain!, signals };
}

describe("a pair of signals", () => {
  test("is told by both of them, counts once, and is added up over its months", () => {
    const months = [month(3, 10), month(4, 20)];
    expect(fleetPairs(months, fleetSignals(months))).toMatchObject([{ first: 0, second: 1, count: 7, jointDays: 30 }]);
  });

  test("is another one once a sensor was replaced, and none with a signal that is gone", () => {
    const months = [month(3, 10), month(4, 20, (_, i) => (i === 1 ? { model: "newer" } : {}))];
    expect(fleetPairs(months, fleetSignals(months)).map(({ count }) => count).toSorted()).toEqual([3, 4]);
    const gone = month(3, 10);
    expect(fleetPairs([{ ...gone, signals: gone.signals.slice(0, 1) }], fleetSignals(months))).toEqual([]);
  });

  test("is exposed to the rate of all pairs of its kinds", () => {
    const pair = { site: "yard", subject: "bay", first: 0, second: 1, kinds: "meters" };
    const pairs = [{ ...pair, count: 6, jointDays: 10 }, { ...pair, count: 0, jointDays: 20 }, { ...pair, kinds: "mats", count: 0, jointDays: 0 }];
    expect(measuredPairs(pairs)).toEqual([{ count: 6, exposure: 2 }, { count: 0, exposure: 4 }, { count: 0, exposure: 0 }]);
  });
});

describe("which of a pair to look at first", () => {
  const first = (one: Partial<FleetSignal>, other: Partial<FleetSignal>): string | null => {
    const signals = fleetSignals([month(3, 10)]).map((signal, i) => ({ ...signal, days: 100, knownDays: 100, flaps: 0, silences: 0, ...(i === 0 ? one : other) }));
    return pairFindings(fleetPairs([month(3, 10)], signals), [{ count: 3, exposure: 1 }], signals, 0.95)[0]!.lookFirst?.why ?? null;
  };
  const [a, b] = plain!.signals.map(({ signal }) => signal);

  test("is nobody's guess without a sign", () => {
    expect(first({}, {})).toBeNull();
    expect(first({ flaps: 2 }, {})).toBeNull();
    expect(first({ flaps: 5 }, { flaps: 3 })).toBeNull();
  });

  test("is the one that flickers or falls silent at least three times, and twice as often as the other", () => {
    expect(first({ flaps: 3 }, {})).toBe(`it also flickered 3 times, ${b} 0 times`);
    expect(first({ flaps: 3 }, { flaps: 6, silences: 0 })).toBe(`it also flickered 6 times, ${a} 3 times`);
    expect(first({ silences: 4 }, { silences: 2 })).toBe(`it also fell silent 4 times, ${b} twice`);
    expect(first({ silences: 4, flaps: 1 }, { silences: 2, flaps: 9 })).toBe(`it also fell silent 4 times, ${b} twice`);
  });

  test("is the one that is known for clearly less of its time", () => {
    expect(first({}, { knownDays: 75 })).toBe("it was also known for only 75 % of the time");
    expect(first({}, { knownDays: 95 })).toBeNull();
    expect(first({}, { days: 0, knownDays: 0 })).toBe("it was also known for only 0 % of the time");
  });
});
