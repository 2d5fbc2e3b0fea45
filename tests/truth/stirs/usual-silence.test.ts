import { describe, expect, it } from "vitest";
import { usualSilence, type Silence } from "../../../src/truth/stirs/usual-silence.js";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const days = Array.from({ length: 30 }, (_, day) => day * DAY);
const silence = (from: number, ms: number, ended = true): Silence => ({ from, ms, ended, weight: 1 });

/** From 23:00 to 7:00 nothing stirs; by day somebody stirs every ten minutes. */
const household = days.flatMap((day) => [
  silence(day + 23 * HOUR, 8 * HOUR),
  ...Array.from({ length: 96 }, (_, n) => silence(day + 7 * HOUR + n * 10 * MINUTE, 10 * MINUTE)),
]);

describe("how long it is usual to be silent at home", () => {
  const usual = usualSilence(household, "UTC");

  it("depends on the hour: hours of silence are usual at night and rare by day", () => {
    expect(usual.longerThan(2 * HOUR, 3 * HOUR)).toBeGreaterThan(0.8);
    expect(usual.longerThan(12 * HOUR, 3 * HOUR)).toBeLessThan(0.05);
  });

  it("is counted from any moment at home, so that most moments of a night have hours of it before them", () => {
    // From 3:00, 4 h are left of each night; a third of the kernel's hours has less.
    expect(usual.longerThan(3 * HOUR, 2 * HOUR)).toBeGreaterThan(0.7);
    expect(usual.longerThan(3 * HOUR, 6 * HOUR)).toBeLessThan(0.3);
  });

  it("falls with the length, from 1, and never to 0", () => {
    let last = 1;
    expect(usual.longerThan(12 * HOUR, 0)).toBe(1);
    for (let ms = MINUTE; ms < 40 * DAY; ms *= 1.5) {
      const share = usual.longerThan(12 * HOUR, ms);
      expect(share).toBeLessThanOrEqual(last);
      expect(share).toBeGreaterThan(0);
      last = share;
    }
  });

  it("agrees with counting moments one by one, where there are enough of them", () => {
    // Silences of 20, 40 and 60 minutes in turn, all day long: the share of moments with more than 30 min to come is (10 + 30) / 120.
    const even = days.flatMap((day) => Array.from({ length: 12 }, (_, n) => [0, 20, 60].map((at, i) => silence(day + (2 * n) * HOUR + at * MINUTE, (i + 1) * 20 * MINUTE))).flat());
    expect(usualSilence(even, "UTC").longerThan(12 * HOUR, 30 * MINUTE)).toBeCloseTo(40 / 120, 1);
  });

  it("takes a silence that a door ended as followed up to there, and one that was hardly at home hardly", () => {
    const cut = days.flatMap((day) => [silence(day + 12 * HOUR, 3 * HOUR, false), ...Array.from({ length: 6 }, (_, n) => silence(day + 12 * HOUR + n * 10 * MINUTE, 10 * MINUTE))]);
    const ended = cut.map((one) => ({ ...one, ended: true }));
    const doubted = cut.map((one) => (one.ended ? one : { ...one, weight: 0.01 }));
    const longer = (of: readonly Silence[]): number => usualSilence(of, "UTC").longerThan(12 * HOUR, 4 * HOUR);
    expect(longer(cut)).toBeGreaterThan(longer(ended));
    expect(usualSilence(doubted, "UTC").longerThan(12 * HOUR, HOUR)).toBeLessThan(usualSilence(cut, "UTC").longerThan(12 * HOUR, HOUR));
  });

  it("goes by the local hour of the site", () => {
    expect(usualSilence(household, "Asia/Tokyo").longerThan(2 * HOUR, 3 * HOUR)).toBeGreaterThan(0.8);
    expect(usualSilence(household, "Asia/Tokyo").longerThan(12 * HOUR, 3 * HOUR)).toBeLessThan(0.05);
  });
});
