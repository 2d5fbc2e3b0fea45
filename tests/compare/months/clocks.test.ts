import { describe, expect, it } from "vitest";
import type { ClockCounts, Counts } from "../../../src/result/counts.js";
import { changesOf } from "../../../src/compare/months/changes.js";
import { notCompared, siteFileChanges } from "../../../src/compare/months/caveats.js";
import { clockSeriesOf } from "../../../src/compare/months/series.js";
import { clocksApart, month } from "./example-counts.js";

const told = (now: Counts, earlier: readonly Counts[]): (string | null)[] => changesOf(now, earlier).flatMap((change) => (change.beyondChance ? [change.text] : []));
/** The same clocks after a person told the site file to add so much to the hub's stamps. */
const corrected = (apart: ClockCounts, seconds: number): ClockCounts => {
  const moved = (x: number | null): number | null => (x === null ? null : x + seconds);
  const { offset } = apart;
  return { ...apart, correctedSeconds: [0, seconds], offset: { ...offset, value: moved(offset.value), low: moved(offset.low), high: moved(offset.high) }, pairs: apart.pairs.map((pair) => ({ ...pair, seconds: pair.seconds.map((one) => one + seconds) })) };
};
const jumped = "hub against log: the clock offset (without the corrections in the site file) rose from 3 s to 43 s, more than by chance.";

describe("the clocks of two sources, from month to month", () => {
  it("are told when one jumped", () => {
    expect(told(month(5, { clocks: clocksApart(43) }), [month(3), month(4)])).toEqual([jumped]);
  });

  it("are not told for a few seconds, however certain, nor for what was so before", () => {
    expect(told(month(5, { clocks: clocksApart(7.5) }), [month(3), month(4)])).toEqual([]);
    expect(told(month(5, { clocks: clocksApart(43) }), [month(2, { clocks: clocksApart(50) }), month(3), month(4)])).toEqual([]);
  });

  it("are compared by what they did themselves: a correction in the site file is no jump, and hides none", () => {
    const apart = clocksApart(43);
    const now = month(5, { clocks: corrected(apart, -43) });
    expect(told(now, [month(3, { clocks: apart }), month(4, { clocks: apart })])).toEqual([]);
    expect(siteFileChanges(now, [month(3, { clocks: apart }), month(4, { clocks: apart })])).toEqual([
      "hub: the clock correction in the site file was 0 s in 2026-04 and is -43 s now. Clock offsets are compared with corrections taken out; lags and faults are compared as they came out.",
    ]);
    expect(told(now, [month(3), month(4)])).toEqual([jumped]);
    expect(clockSeriesOf(now, [month(4, { clocks: apart })])[0]!.points.map(({ offsetSeconds }) => offsetSeconds)).toEqual([{ value: 43, low: 42, high: 44 }, { value: 43, low: 42, high: 44 }]);
  });

  it("are told when one began to drift", () => {
    expect(told(month(5, { clocks: clocksApart(3, 1.2) }), [month(3), month(4)])).toEqual(["hub against log: the clock drift rose from 0 s a day to 1.2 s a day, more than by chance."]);
    expect(told(month(5, { clocks: clocksApart(3, 0.15) }), [month(3), month(4)])).toEqual([]);
  });

  it("are the same clocks where the site file names the sources the other way round", () => {
    const apart = clocksApart(43);
    const turned: ClockCounts = {
      ...apart, first: "hub", second: "log", readAs: ["epoch-s, UTC", "iso, UTC"], offset: { value: -43, low: -44, high: -42, count: 40 },
      pairs: [{ signals: ["bay-1-mat", "bay-1-wall"], seconds: apart.pairs[0]!.seconds.map((one) => -one).toSorted((a, b) => a - b) }],
    };
    expect(told(month(5, { clocks: turned }), [month(3, { clocks: apart }), month(4, { clocks: apart })])).toEqual([]);
    expect(told(month(5, { clocks: turned }), [month(3), month(4)])).toEqual(["log against hub: the clock offset (without the corrections in the site file) fell from -3 s to -43 s, more than by chance."]);
  });

  it("are not compared where stamps were read otherwise, which is said, nor by a sensor that was replaced", () => {
    const otherZone = month(4, { clocks: { ...clocksApart(3603), readAs: ["iso, UTC", "epoch-s, Europe/Paris"] } });
    expect(changesOf(month(5), [otherZone]).filter(({ measure }) => measure.startsWith("clock"))).toEqual([]);
    expect(notCompared(month(5), [otherZone])).toEqual(["Clocks of log and hub are not compared with 2026-04: the site file read their time stamps in another way then (format or time zone)."]);
    const replaced = month(5, { clocks: clocksApart(43), signal: { firmware: "2.0" } });
    expect(changesOf(replaced, [month(4)]).filter(({ measure }) => measure === "clock offset")).toEqual([]);
  });

  it("are told by the pair of signals seen most often in the scarcer period, not by a mixture", () => {
    const lateByNature = { signals: ["bay-1-mat", "bay-1-mat"] as [string, string], seconds: Array<number>(9).fill(60) };
    const withSecond: ClockCounts = { ...clocksApart(3), pairs: [lateByNature, ...clocksApart(3).pairs] };
    const change = changesOf(month(5, { clocks: withSecond }), [month(4)]).find(({ measure }) => measure === "clock offset");
    expect(change).toMatchObject({ before: 3, now: 3 });
  });
});
