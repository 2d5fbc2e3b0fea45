import { describe, expect, it } from "vitest";
import { notCompared } from "../../../src/compare/months/caveats.js";
import { changesOf } from "../../../src/compare/months/changes.js";
import { randomStream } from "../../../src/simulate/random.js";
import { quantileEstimate } from "../../../src/statistics/quantile.js";
import { slopeEstimate } from "../../../src/statistics/theil-sen.js";
import { clocksApart, month, readsAbout } from "./example-counts.js";

const told = (now: Parameters<typeof changesOf>[0], earlier: Parameters<typeof changesOf>[1]): (string | null)[] => changesOf(now, earlier).flatMap((change) => (change.beyondChance ? [change.text] : []));

describe("what changed since earlier months", () => {
  it("is told in a sentence when it is more than chance brings", () => {
    expect(told(month(5, { signal: { missedVisits: 12, missedTurns: 24 } }), [month(3), month(4)])).toEqual([
      "bay-1-wall: missed visits rose from 0 % to 20 %, more than by chance.",
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
    expect(told(month(5, { signal: { lagsArriving: slow } }), [month(4)])).toEqual(["bay-1-wall: the usual lag when somebody or something arrives rose from 6.95 s to 27 s, more than by chance."]);
  });

  it("sees a sensor go dark, one look a day", () => {
    expect(told(month(5, { signal: { knownDays: 18 } }), [month(3), month(4)])).toEqual(["bay-1-wall: known time fell from 100 % to 60 %, more than by chance."]);
  });

  it("tells only what matters by what the site itself accepts of a sensor", () => {
    const worse = { signal: { missedVisits: 12, missedTurns: 24, lagsArriving: new Array<number>(40).fill(27) } };
    const earlier = [month(3), month(4)];
    const measures = (limits: Parameters<typeof month>[1]): string[] => changesOf(month(5, { ...worse, ...limits }), earlier).filter(({ beyondChance }) => beyondChance).map(({ measure }) => measure).toSorted();
    expect(measures({})).toEqual(["lag when arriving", "missed visits"]);
    expect(measures({ limits: { missedShare: 0.5 } })).toEqual(["lag when arriving"]);
    expect(measures({ limits: { lateSeconds: 300 } })).toEqual(["missed visits"]);
  });

  it("asks for as many more false reports as the site accepts of so many changes", () => {
    const chatters = (falseShare: number): number => changesOf(month(5, { signal: { phantoms: 40 }, limits: { falseShare } }), [month(3), month(4)]).filter(({ beyondChance }) => beyondChance).length;
    expect(chatters(0.05)).toBe(1);
    expect(chatters(0.8)).toBe(0);
  });

  it("is not told where a diary began to tell the truth about a sensor, and says so", () => {
    const [now, was] = [month(5, { signal: { missedVisits: 12, missedTurns: 24 }, basis: { diary: 20, several: 10, one: 0 } }), month(4, { basis: { diary: 0, several: 30, one: 0 } })];
    expect(changesOf(now, [was]).filter(({ signal }) => signal === "bay-1-wall")).toEqual([]);
    expect(notCompared(now, [was])).toEqual(["What bay-1-wall did is not compared with 2026-04: the truth came from several other sensors then, and comes from the diary and several other sensors now."]);
    expect(notCompared(now, [month(4, { basis: { diary: 18, several: 12, one: 0 } })])).toEqual([]);
  });

  it("is not told where a third sensor is gone that told who is right, and says so", () => {
    const [now, was] = [month(5, { basis: { diary: 0, several: 0, one: 30 } }), month(4, { basis: { diary: 0, several: 30, one: 0 } })];
    expect(changesOf(now, [was]).filter(({ signal }) => signal === "bay-1-wall")).toEqual([]);
    expect(notCompared(now, [was])[0]).toContain("from several other sensors then, and comes from one other sensor now");
  });

  it("does not compare a sensor with the one that hung there before", () => {
    const now = month(5, { signal: { firmware: "2.0", missedVisits: 12 } });
    const ofWall = (earlier: Parameters<typeof changesOf>[1]): number => changesOf(now, earlier).filter(({ signal }) => signal === "bay-1-wall").length;
    expect(ofWall([month(3), month(4)])).toBe(0);
    expect(ofWall([month(3), month(4, { signal: { firmware: "2.0" } })])).toBeGreaterThan(0);
  });

  it("raises no more false alarms than promised where nothing changes", () => {
    const months = 400;
    const all = Array.from({ length: months }, (_, i) => fourUsualMonths(i + 1)).map(({ now, earlier }) => changesOf(now, earlier));
    const alarms = all.filter((changes) => changes.some(({ beyondChance }) => beyondChance)).length;
    process.stdout.write(`months in which a change was told though nothing had changed: ${alarms} of ${months}\n`);
    expect(alarms / months).toBeLessThan(0.05);
    // Not only because small changes are never told: the tests of readings and clocks themselves keep what they promise.
    for (const measure of ["reading when occupied", "reading when empty", "clock offset", "clock drift"] as const) {
      const pValues = all.flat().filter((change) => change.measure === measure).map(({ pValue }) => pValue);
      const below = pValues.filter((p) => p < 0.05).length / pValues.length;
      process.stdout.write(`${measure}: ${(below * 100).toFixed(1)} % of ${pValues.length} unadjusted p-values below 0.05\n`);
      expect(pValues.length).toBe(months);
      expect(below).toBeLessThan(0.08);
    }
  });

  it("finds a meter that moved by 20 cm and a clock that jumped by 40 s among noise, nearly always", () => {
    const months = 100;
    let [meter, clock] = [0, 0];
    for (let seed = 1; seed <= months; seed += 1) {
      const { now, earlier } = fourUsualMonths(seed, { metres: 0.2, seconds: 40 });
      const found = changesOf(now, earlier).filter(({ beyondChance }) => beyondChance).map(({ measure }) => measure);
      if (found.includes("reading when occupied")) meter += 1;
      if (found.includes("clock offset")) clock += 1;
    }
    process.stdout.write(`a meter moved by 20 cm: told in ${meter} of ${months}; a clock that jumped by 40 s: ${clock} of ${months}\n`);
    expect(meter / months).toBeGreaterThan(0.95);
    expect(clock / months).toBeGreaterThan(0.95);
  });
});

/** Four months of the same site with chance in everything; in the last, the meter moved by so much and the hub's clock is later by so much. */
function fourUsualMonths(seed: number, moved: { readonly metres: number; readonly seconds: number } = { metres: 0, seconds: 0 }): { now: ReturnType<typeof month>; earlier: ReturnType<typeof month>[] } {
  const random = randomStream(seed, "months");
  const poisson = (mean: number): number => {
    let count = -1;
    for (let passed = 0; passed <= mean; count += 1) passed -= Math.log(1 - random());
    return count;
  };
  const normal = (mean: number, deviation: number): number => mean + deviation * Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const rising = (length: number, make: () => number): number[] => Array.from({ length }, make).toSorted((a, b) => a - b);
  const usual = (number: number, metres = 0, seconds = 0): ReturnType<typeof month> => {
    const looks = 8 + poisson(20);
    // A vehicle is parked a few centimetres this way and that; the floor stays where it is; exported to the centimetre.
    const around = (middle: number, spread: number): number[] => rising(looks, () => Math.round(normal(middle + metres, spread) * 100) / 100);
    const apart = Array.from({ length: 10 + poisson(40) }, (_, i) => ({ day: i, seconds: Math.round(3 + seconds + normal(0, 3) - 2 * Math.log(1 - random())) }));
    const drift = slopeEstimate(apart.map(({ day }) => (30 * day) / apart.length), apart.map((one) => one.seconds), 0.95, "seconds per day");
    const clocks = { ...clocksApart(3), offset: quantileEstimate(apart.map((one) => one.seconds), 0.5, 0.95, "seconds"), drift, pairs: [{ signals: clocksApart(3).pairs[0]!.signals, seconds: apart.map((one) => one.seconds).toSorted((a, b) => a - b) }] };
    return month(number, {
      signal: {
        missedVisits: poisson(1.5), phantoms: poisson(4), silences: poisson(3), lagsArriving: rising(20, () => -5 * Math.log(1 - random())),
        distances: { ...readsAbout(1.2, 2.4), occupied: around(1.2, 0.04), empty: around(2.4, 0.01) },
      },
      clocks,
    });
  };
  return { earlier: [usual(2), usual(3), usual(4)], now: usual(5, moved.metres, moved.seconds) };
}
