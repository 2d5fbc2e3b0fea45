import { describe, expect, test } from "vitest";
import { chanceNamed } from "../verdict/random.js";
import { lookedAt, merged, MONTH_DAYS, together, type Pulse } from "./pulses.js";
import { boundsOn } from "./run-setting.js";
import { settings } from "./settings.js";
import { byClockPerYear, counted, whileHomePerYear } from "./truth.js";

/** A sample small enough for a test: the whole of it is `npm run study:evidence`. */
const HISTORIES = 60;
const DAYS = 3 * MONTH_DAYS;

/** In how many of sixty histories of three months each bound lies at or above the truth. */
function covered(id: string): { readonly even: number; readonly clock: number } {
  const setting = settings.find((one) => one.id === id)!;
  const truth = setting.truth().perYear;
  const bounds = Array.from({ length: HISTORIES }, (_, i) => boundsOn(lookedAt(setting.make(chanceNamed(`sample/${id}/${i}`), DAYS), DAYS)));
  return { even: bounds.filter(({ even }) => even >= truth).length, clock: bounds.filter(({ clock }) => clock >= truth).length };
}

describe("sixty histories of three months", () => {
  test("faults at any time: both bounds lie at or above the truth in 95 of 100", () => {
    const { even, clock } = covered("even");
    expect(even).toBeGreaterThanOrEqual(0.95 * HISTORIES);
    expect(clock).toBeGreaterThanOrEqual(0.95 * HISTORIES);
  });

  test("faults in the same two hours: the bound made for it does, the other does not in half", () => {
    const { even, clock } = covered("two-hours");
    expect(clock).toBeGreaterThanOrEqual(0.95 * HISTORIES);
    expect(even).toBeLessThan(0.5 * HISTORIES);
  });
});

describe("true rates", () => {
  // 36 and 288 a year, 120 and 600 s: m_a = 1.36892e-4 and m_b = 5.47570e-3 are expected in a window.
  const parts = [
    { perDay: 36 / 365.25, seconds: 120, hours: null },
    { perDay: 288 / 365.25, seconds: 600, hours: null },
  ] as const;

  test("are exact where faults come at any time", () => {
    // 36 e^−m_a (1 − e^−m_b) + 288 e^−m_b (1 − e^−m_a); 0.23655 if no stretch ran into another.
    expect(byClockPerYear(...parts)).toBeCloseTo(0.235767, 5);
  });

  test("half the day with the same faults makes it nearly twice as much", () => {
    expect(whileHomePerYear(...parts, 43_200) / byClockPerYear(...parts)).toBeCloseTo(2, 1);
  });

  test("are what a long run of the generator counts, to three in a hundred", () => {
    const setting = settings.find(({ id }) => id === "minute")!;
    const { bothPerYear } = counted((days, year) => setting.make(chanceNamed(`test/${year}`), days), 400);
    expect(Math.abs(bothPerYear / setting.truth().perYear - 1)).toBeLessThan(0.03);
  });
});

describe("pulses", () => {
  const pulse = (at: number, seconds: number, explained = false): Pulse => ({ at, seconds, explained });

  test("that overlap are one stretch, explained if one of them is", () => {
    expect(merged([pulse(500, 10), pulse(0, 100), pulse(60, 100, true)])).toEqual([pulse(0, 160, true), pulse(500, 10)]);
  });

  test("of both parts are on together from the later beginning to the earlier end", () => {
    expect(together([pulse(0, 100), pulse(300, 50, true)], [pulse(90, 250, true)])).toEqual([pulse(90, 10), pulse(300, 40, true)]);
  });

  test("beyond the last day of a look are not seen", () => {
    const made = { pulses: [[pulse(10, 5)], [pulse(86_410, 5)]] as const, windows: [120, 600] as const, days: "ww", homeShare: 1 };
    expect(lookedAt(made, 1).history.parts.map(({ stretches, longestSeconds }) => [stretches.length, longestSeconds])).toEqual([[1, 120], [0, 600]]);
  });
});
