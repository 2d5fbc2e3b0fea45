import { describe, expect, test } from "vitest";
import { emptyNotes } from "../../../src/truth/bands/empty-notes.js";
import { type EmptyReading, learnEmpties, rangesOf } from "../../../src/truth/bands/empty-reading.js";
import { retellableAccounts } from "../../../src/truth/signals/accounts.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { SignalAccount } from "../../../src/truth/signals/account.js";
import type { Band } from "../../../src/site/site.js";
import { HOUR, MINUTE, look, meter, readingsMap, siteOf } from "../signals/small-site.js";

const band: Band = { nearMetres: 1, farMetres: 1.3, slackMetres: 0.05, maximumMetres: null };

/** Evenly spread noise of two centimetres, the same in every run. */
const wobble = (i: number): number => ((i * 0.618) % 1) * 0.04 - 0.02;

/** A reading every three minutes for ten days: `at(hour of all, hour of day)` in metres. */
function tenDays(at: (hour: number, hourOfDay: number) => number): { times: Float64Array; values: Float64Array } {
  const times = Float64Array.from({ length: 10 * 480 }, (_, i) => i * 3 * MINUTE);
  return { times, values: times.map((time, i) => at(Math.floor(time / HOUR), Math.floor(time / HOUR) % 24) + wobble(i)) };
}

/** What a meter learns from its readings. `expectMs` null: it only reports changes. */
function learnEmpty(times: Float64Array, values: Float64Array, inBand: Band, expectMs: number | null): EmptyReading | null {
  const site = siteOf([meter("m", { near: 0, far: 1 }, { band: inBand, expectMs })]);
  return learnEmpties(site, readingsMap({ m: Array.from(times, (time, i) => [time, values[i]!] as const) })).get("m")!;
}

const learnt = (at: (hour: number, hourOfDay: number) => number, inBand: Band = band) => {
  const { times, values } = tenDays(at);
  return learnEmpty(times, values, inBand, 3 * MINUTE);
};
/** Away from 8 to 17. */
const workday = (hour: number, elsewhere = 2.4): number => (hour >= 8 && hour < 17 ? elsewhere : 1.15);

describe("the empty reading of a meter", () => {
  test("is where its readings rest outside the band, with some room, and all that is farther", () => {
    const { ranges, farthestMetres } = learnt((_, hour) => workday(hour))!;
    expect(ranges).toHaveLength(1);
    expect(ranges[0]!.nearMetres).toBeGreaterThan(2.1);
    expect(ranges[0]!.nearMetres).toBeLessThan(2.36);
    expect(ranges[0]!.farMetres).toBe(Infinity);
    expect(farthestMetres).toBeGreaterThan(2.42);
  });

  test("is not where a visitor's vehicle stood once, however long", () => {
    // Seven hours of a day, and nothing else outside the band for nine days.
    expect(learnt((hour) => (hour >= 100 && hour < 107 ? 1.5 : 1.15))).toBeNull();
    expect(learnt((hour, ofDay) => (hour >= 106 && hour < 112 ? 1.5 : workday(ofDay)))!.ranges[0]!.nearMetres).toBeGreaterThan(2.1);
  });

  test("is the farther of two places: a second vehicle stands in the bay on most days", () => {
    expect(learnt((hour, ofDay) => (hour % 3 > 0 ? workday(ofDay, 1.6) : workday(ofDay)))!.ranges[0]!.nearMetres).toBeGreaterThan(2.1);
  });

  test("is no echo where that is what an empty bay gives", () => {
    expect(learnt((_, hour) => workday(hour, 3), { ...band, maximumMetres: 2.9 })).toEqual({ ranges: [], farthestMetres: 2.9 });
  });

  describe("that mostly gives no echo", () => {
    const far: Band = { ...band, maximumMetres: 2.9 };
    /** Beyond the maximum for `hours` of the nine hours of each absence, 2.4 m for the rest. */
    const silentFor = (hours: number) => learnt((_, hour) => (hour >= 8 && hour < 8 + hours ? 3 : workday(hour)), far);

    test("is no echo, although something else reads the same for the rest of every absence", () => {
      expect(silentFor(6)).toEqual({ ranges: [], farthestMetres: 2.9 });
    });

    test("is the place of the echoes where they fill more than half of the time", () => {
      expect(silentFor(4)!.ranges[0]!.nearMetres).toBeCloseTo(2.2, 1);
    });

    test("is no echo only if that came in three absences, however long they were", () => {
      // Away for 23 hours on each of the first days, without an echo; for an hour of each other day with one.
      const away = (days: number) => learnt((hour, ofDay) => (hour < 24 * days ? (ofDay < 23 ? 3 : 1.15) : ofDay === 9 ? 2.4 : 1.15), far);
      expect(away(2)!.ranges[0]!.nearMetres).toBeCloseTo(2.2, 1);
      expect(away(3)).toEqual({ ranges: [], farthestMetres: 2.9 });
    });

    test("is no echo from the first absence on, where nothing but the band ever gave one", () => {
      expect(learnt((hour) => (hour >= 100 && hour < 107 ? 3 : 1.15), far)).toEqual({ ranges: [], farthestMetres: 2.9 });
    });

    test("may have no echo at the maximum exactly", () => {
      const times = Float64Array.from({ length: 200 }, (_, i) => i * 3 * MINUTE);
      expect(learnEmpty(times, times.map((_, i) => (i % 20 < 10 ? 1.15 : 2.9)), far, 3 * MINUTE)).toEqual({ ranges: [], farthestMetres: 2.9 });
    });
  });

  test("is null for a meter that never sent a reading, and missing for one whose site file tells it", () => {
    const told: Band = { ...band, empty: [{ nearMetres: 2, farMetres: 3 }] };
    const site = siteOf([meter("mute", { near: 0, far: 1 }, { band }), meter("told", { near: 0, far: 1 }, { band: told }), meter("bandless", { near: 0, far: 1 }, { band: null })]);
    expect([...learnEmpties(site, new Map())]).toEqual([["mute", null]]);
  });

  test("lies about its place alone where it is nearer than the band", () => {
    const { ranges } = learnt((_, hour) => workday(hour, 0.4))!;
    expect(ranges[0]!.nearMetres).toBeGreaterThan(0.2);
    expect(ranges[0]!.farMetres).toBeLessThan(0.6);
  });

  test("never reaches into the band and its slack, however much the readings waver", () => {
    const { times, values } = tenDays((_, hour) => workday(hour, 1.5));
    expect(learnEmpty(times, values.map((value, i) => (value > 1.4 ? value + 4 * wobble(i) : value)), band, 3 * MINUTE)!.ranges[0]!.nearMetres).toBeGreaterThanOrEqual(1.35);
  });

  test("is learnt from the few readings of a meter that only reports changes", () => {
    const days = [0, 1, 2, 3, 4];
    const times = Float64Array.from(days.flatMap((day) => [24 * day * HOUR, (24 * day + 8) * HOUR, (24 * day + 17) * HOUR]));
    expect(learnEmpty(times, Float64Array.from(days.flatMap(() => [1.15, 2.4, 1.15])), band, null)!.ranges[0]!.nearMetres).toBeCloseTo(2.4 - 0.089, 1);
  });
});

describe("a visitor's vehicle that stands beside the band", () => {
  // The band ends at 50.7 in; it reads 51.5 in for 6 h 50 min.
  const wall = (empty: string | null) =>
    meter("wall", { near: 0, far: 1 }, { expectMs: 3 * MINUTE, settleMs: 20_000, reading: { form: "distance", unit: "in" }, band: { nearMetres: 20 * 0.0254, farMetres: 50.7 * 0.0254, slackMetres: 0, maximumMetres: 118 * 0.0254, ...(empty === null ? {} : { empty: [{ nearMetres: 80 * 0.0254, farMetres: 118 * 0.0254 }] }) } });
  const [from, to] = [106 * HOUR, 112 * HOUR + 50 * MINUTE];
  const rows = Array.from({ length: 10 * 480 }, (_, i): [number, number] => {
    const at = i * 3 * MINUTE;
    const ofDay = (at / HOUR) % 24;
    const inches = at >= from && at < to ? 51.5 : ofDay >= 8 && ofDay < 17 ? 100 : 30;
    return [at, (inches + 5 * wobble(i)) * 0.0254];
  });
  const readings = readingsMap({ wall: rows });
  const period = { from: 0, to: 240 * HOUR };
  const told = (empty: string | null) => {
    const site = siteOf([wall(empty)]);
    const learntHere = learnEmpties(site, readings);
    const { accounts } = retellableAccounts(site, readings, period, rangesOf(learntHere));
    return { account: accounts.get("wall")!, notes: emptyNotes(site, learntHere, accounts) };
  };
  const [before, there, after] = [105 * HOUR, 110 * HOUR, 130 * HOUR];

  test("is unknown where the site file says how the empty bay reads, to rules too", () => {
    const { account, notes } = told("said");
    expect(look(account.account, [before, there, after])).toEqual([0, 2, 0]);
    expect(look(account.live, [before, there, after])).toEqual([0, 2, 0]);
    expect(look(account.account, [from, to - 1])).toEqual([2, 2]);
    // A live system took the first reading for one on the way.
    expect(look(account.live, [from, from + 4 * MINUTE, from + 5 * MINUTE])).toEqual([0, 0, 2]);
    expect(account.vote).toBeUndefined();
    expect(notes).toEqual([]);
  });

  test("where it does not, the meter confirms nothing, and rules go on hearing that it is empty", () => {
    const { account, notes } = told(null);
    expect(look(account.vote!, [before, there, after])).toEqual([0, 2, 0]);
    expect(look(account.account, [before, there, after])).toEqual([0, 0, 0]);
    expect(account.live).toEqual(account.account);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatch("wall read neither occupied nor empty for 6 h 51 min: something else may have stood there. That time confirms nothing, but rules still took it for empty. To make it unknown to them too, write “empty: [95.9, 105]” beside “present” in the site file.");
    expect(notes[0]).toMatch(/write “empty: \[9\d\.\d, 1\d\d\]” beside “present”/);
  });
});

describe("what to write for the empty reading", () => {
  /** The line that a note advises for a meter that learnt this, and before which something else stood for an hour. */
  const lineFor = (empty: EmptyReading, inBand: Band, unit: "m" | "in"): string | undefined => {
    const off = timelineOf(0, 3 * HOUR, [[0, 0]]);
    const account: SignalAccount = { signal: "m", account: off, live: off, vote: timelineOf(0, 3 * HOUR, [[0, 0], [HOUR, 2], [2 * HOUR, 0]]), silences: [], restarts: [], readingCount: 3, flapCount: 0 };
    const site = siteOf([meter("m", { near: 0, far: 1 }, { band: inBand, reading: { form: "distance", unit } })]);
    const [note] = emptyNotes(site, new Map([["m", empty]]), new Map([["m", account]]));
    return /Write `(.*)` beside "present"/.exec(note ?? "")?.[1];
  };

  test("is in the signal's unit, rounded outwards", () => {
    expect(lineFor({ ranges: [{ nearMetres: 2.347, farMetres: Infinity }], farthestMetres: 2.611 }, band, "m")).toBe(undefined);
    expect(lineFor({ ranges: [{ nearMetres: 2.347, farMetres: Infinity }], farthestMetres: 2.611 }, band, "in")).toBe(undefined);
  });

  test("stays out of the band where it touches it", () => {
    expect(lineFor({ ranges: [{ nearMetres: 1.3501, farMetres: Infinity }], farthestMetres: 2 }, { ...band, slackMetres: 0.0501 }, "m")).toBe(undefined);
  });

  test("is the maximum alone where an empty bay gives no echo", () => {
    expect(lineFor({ ranges: [], farthestMetres: 118 * 0.0254 }, band, "in")).toBe(undefined);
  });
});

test("a bay that was empty in too few absences is told as one of which the empty reading is not known", () => {
  const { times, values } = tenDays((hour) => (hour >= 100 && hour < 107 ? 1.5 : 1.15));
  const site = siteOf([meter("m", { near: 0, far: 1 }, { band, expectMs: 3 * MINUTE })]);
  const readings = readingsMap({ m: Array.from(times, (time, i) => [time, values[i]!] as const) });
  const empties = learnEmpties(site, readings);
  const { accounts } = retellableAccounts(site, readings, { from: 0, to: 240 * HOUR }, rangesOf(empties));
  expect(emptyNotes(site, empties, accounts)).toEqual([expect.stringMatching(/^What m reads in an empty bay is not clear: it does not come to rest at one distance/)]);
});
