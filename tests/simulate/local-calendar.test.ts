import { expect, test } from "vitest";
import { dailyWindows, instantOf, localDates, nearClockChange } from "../../src/simulate/local-calendar.js";

const HOUR = 3_600_000;
const utc = (text: string): number => Date.parse(text);

test("wall times become instants: a repeated one means its first pass, a skipped one is shifted", () => {
  expect(instantOf("Europe/London", "2026-10-25", "01:30")).toBe(utc("2026-10-25T00:30:00Z"));
  expect(instantOf("Europe/London", "2026-03-29", "01:30")).toBe(utc("2026-03-29T01:30:00Z"));
  expect(instantOf("America/New_York", "2026-03-08", "03:00")).toBe(utc("2026-03-08T07:00:00Z"));
  expect(() => instantOf("Europe/London", "2026-02-30")).toThrow("Not a local time in Europe/London");
});

test("local days with their weekdays, however long they are", () => {
  const days = localDates("Europe/London", utc("2026-10-23T23:00:00Z"), utc("2026-10-26T00:00:00Z"));
  expect(days).toEqual([{ date: "2026-10-24", day: "sat" }, { date: "2026-10-25", day: "sun" }]);
});

test("a nightly window crosses midnight, and is an hour longer when the clocks go back in it", () => {
  const windows = dailyWindows("Europe/London", utc("2026-10-24T11:00:00Z"), utc("2026-10-26T12:00:00Z"), "23:00", "06:00");
  expect(windows.map(({ from, to }) => (to - from) / HOUR)).toEqual([8, 7]);
  expect(windows[0]!.from).toBe(utc("2026-10-24T22:00:00Z"));
});

test("clock changes are noticed from a margin away", () => {
  expect(nearClockChange("Europe/London", utc("2026-10-25T00:10:00Z"), HOUR)).toBe(true);
  expect(nearClockChange("Europe/London", utc("2026-10-25T03:10:00Z"), HOUR)).toBe(false);
});
