import { describe, expect, it } from "vitest";
import { changesOf } from "../../src/months/changes.js";
import { randomStream } from "../../src/simulate/random.js";
import { month } from "./example-counts.js";

const told = (now: Parameters<typeof changesOf>[0], earlier: Parameters<typeof changesOf>[1]): (string | null)[] => changesOf(now, earlier).flatMap((change) => (change.beyondChance ? [change.text] : []));

describe("what changed since earlier months", () => {
  it("is told in a sentence when it is more than chance brings", () => {
    expect(told(month(5, { signal: { missedVisits: 12, missedTurns: 24 } }), [month(3), month(4)])).toEqual([
      "bay-1-wall: missed visits rose from 0 % to 20 % (p < 0.0001, adjusted for all comparisons).",
    ]);
  });

  it("is not told when chance brings as much", () => {
    expect(told(month(5, { signal: { missedVisits: 1, phantoms: 3, silences: 3 } }), [month(3), month(4)])).toEqual([]);
  });

  it("needs a figure outside every earlier month: a bad month like one before is no news", () => {
    const bad = { signal: { silences: 25 } };
    expect(told(month(5, bad), [month(3), month(4)])).toHaveLength(1);
    expect(told(month(5, bad), [month(2, { signal: { silences: 30 } }), month(3), month(4)])).toEqual([]);
  });

  it("sees lags grow, by their median", () => {
    const slow = new Array<number>(40).fill(27);
    expect(told(month(5, { signal: { lagsArriving: slow } }), [month(4)])).toEqual(["bay-1-wall: the median lag when somebody or something arrives rose from 6.95 s to 27 s (p < 0.0001, adjusted for all comparisons)."]);
  });

  it("sees a sensor go dark, one look a day", () => {
    expect(told(month(5, { signal: { knownDays: 18 } }), [month(3), month(4)])).toEqual(["bay-1-wall: the time known fell from 100 % to 60 % (p < 0.0001, adjusted for all comparisons)."]);
  });

  it("does not compare a sensor with the one that hung there before", () => {
    const now = month(5, { signal: { firmware: "2.0", missedVisits: 12 } });
    expect(changesOf(now, [month(3), month(4)])).toEqual([]);
    expect(changesOf(now, [month(3), month(4, { signal: { firmware: "2.0" } })])).not.toEqual([]);
  });

  it("raises no more false alarms than promised where nothing changes", () => {
    let alarms = 0;
    const months = 400;
    for (let seed = 1; seed <= months; seed += 1) {
      const random = randomStream(seed, "months");
      const poisson = (mean: number): number => {
        let count = -1;
        for (let passed = 0; passed <= mean; count += 1) passed -= Math.log(1 - random());
        return count;
      };
      const usual = (number: number): ReturnType<typeof month> =>
        month(number, { signal: { missedVisits: poisson(1.5), phantoms: poisson(4), silences: poisson(3), lagsArriving: Array.from({ length: 20 }, () => -5 * Math.log(1 - random())) } });
      if (told(usual(5), [usual(2), usual(3), usual(4)]).length > 0) alarms += 1;
    }
    expect(alarms / months).toBeLessThan(0.05);
  });
});
