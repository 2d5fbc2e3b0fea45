import { describe, expect, it } from "vitest";
import type { Counts } from "../../../src/result/counts.js";
import { changesOf } from "../../../src/compare/months/changes.js";
import { notCompared, siteFileChanges } from "../../../src/compare/months/caveats.js";
import { month, quietSignal, readsAbout } from "./example-counts.js";

const told = (now: Counts, earlier: readonly Counts[]): (string | null)[] => changesOf(now, earlier).flatMap((change) => (change.beyondChance ? [change.text] : []));
const reading = (occupied: number, empty: number) => ({ signal: { distances: readsAbout(occupied, empty) } });
/** As written before readings and clocks were kept, and as thinned then. */
const older = (counts: Counts): Counts => ({ ...counts, clocks: undefined, signals: counts.signals.map((signal) => ({ ...signal, distances: undefined })) });

describe("what a distance meter reads, from month to month", () => {
  it("is told when the meter moved: both where the bay is occupied and where it is empty", () => {
    expect(told(month(5, reading(1.4, 2.6)), [month(3), month(4)])).toEqual([
      "bay-1-wall: the usual reading when occupied rose from 120 cm to 140 cm, more than by chance.",
      "bay-1-wall: the usual reading when empty rose from 240 cm to 260 cm, more than by chance.",
    ]);
  });

  it("is not told when it is no more than cold air brings, however certain; the comparison stands in the table", () => {
    const winter = changesOf(month(5, reading(1.24, 2.48)), [month(3), month(4)]).filter(({ measure }) => measure.startsWith("reading"));
    expect(winter.map(({ beyondChance }) => beyondChance)).toEqual([false, false]);
    expect(winter[0]!.adjustedPValue).toBeLessThan(1e-9);
  });

  it("is no news where an earlier month had it already", () => {
    expect(told(month(5, reading(1.4, 2.6)), [month(2, reading(1.42, 2.62)), month(3), month(4)])).toEqual([]);
  });

  it("does not depend on the band of the site file, whose change is told as such", () => {
    const wider = month(5, { signal: { distances: { ...quietSignal.distances!, present: { nearMetres: 0.9, farMetres: 1.4, slackMetres: 0.02, maximumMetres: null } } } });
    expect(told(wider, [month(3), month(4)])).toEqual([]);
    expect(siteFileChanges(wider, [month(3), month(4)])).toEqual([
      "bay-1-wall: its band in the site file was 100 cm to 140 cm, slack 2 cm in 2026-04 and is 90 cm to 140 cm, slack 2 cm now: a change of the site file, not of the sensor.",
    ]);
    expect(siteFileChanges(month(5), [month(3), month(4)])).toEqual([]);
  });

  it("is not compared with an older result, which is named", () => {
    const now = month(5, reading(1.4, 2.6));
    expect(changesOf(now, [older(month(4))]).filter(({ measure }) => /^(reading|clock)/.test(measure))).toEqual([]);
    expect(notCompared(now, [older(month(4))])).toEqual(["Readings of bay-1-wall are not compared with 2026-04: that older result kept none.", "Clocks are not compared with 2026-04: that older result kept no clock offsets."]);
    expect(told(now, [older(month(3)), month(4)])).toHaveLength(2);
    expect(notCompared(now, [month(3), month(4)])).toEqual([]);
  });

  it("is not compared where the site file took it in another unit, or with another maximum", () => {
    const was = (change: object): Counts => month(4, { signal: { distances: { ...readsAbout(1.4, 2.6), ...change } } });
    expect(changesOf(month(5), [was({ unit: "in" })]).filter(({ measure }) => measure.startsWith("reading"))).toEqual([]);
    expect(notCompared(month(5), [was({ unit: "in" })])).toEqual(["Readings of bay-1-wall are not compared with 2026-04: the site file gave their unit as “in” then and gives “cm” now."]);
    expect(notCompared(month(5), [was({ present: { ...quietSignal.distances!.present, maximumMetres: 3 } })])[0]).toContain("another maximum");
  });
});
