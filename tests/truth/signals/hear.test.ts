import { describe, expect, test } from "vitest";
import type { SubjectClass } from "../../../src/site/site.js";
import { hearSignals } from "../../../src/truth/signals/hear.js";
import { HOUR, MINUTE, readingsMap, signal, siteOf } from "./small-site.js";

const DAY = 24 * HOUR;
const DAYS = 28;
const period = { from: 0, to: DAYS * DAY };
type Row = readonly [at: number, value: number];

/** On at each of these times of day (minutes), for so long. */
const daily = (starts: readonly number[], minutes: number): Row[] => [
  [0, 0],
  ...Array.from({ length: DAYS }, (_, day) => starts.flatMap((start): Row[] => [[day * DAY + start * MINUTE, 1], [day * DAY + (start + minutes) * MINUTE, 0]])).flat(),
];

/** A hall sensor and a phone on Ida, a contact on the door; each of another board. */
function heard(rows: Readonly<Record<string, readonly Row[]>>, ida: SubjectClass = "person") {
  const signals = Object.keys(rows).map((id) => signal(id, { subject: id === "rail" ? "door" : "ida", source: id, kind: id === "rail" ? "contact" : "phone" }));
  const subjects = [{ id: "ida", class: ida, vehicle: null }, { id: "door", class: "door" as const, vehicle: null }];
  return hearSignals({ ...siteOf(signals), subjects }, readingsMap(rows), period);
}

describe("what is heard of signals", () => {
  test("needs no note where every signal tells both states", () => {
    const { told, notes } = heard({ phone: daily([17 * 60], 6 * 60), rail: daily([17 * 60], 1) });
    expect(notes).toEqual([]);
    expect([...told.accounts.keys()]).toEqual(["phone", "rail"]);
  });

  test("leaves out one that notices movement only, and says so", () => {
    const { told, notes } = heard({ hall: daily([7 * 60, 12 * 60, 19 * 60], 2), rail: daily([17 * 60], 1) });
    expect([...told.accounts.get("hall")!.live.states]).toEqual([2]);
    expect(told.accounts.get("rail")!.account.times.length).toBeGreaterThan(2);
    expect(notes).toHaveLength(1);
    expect(notes[0]).toMatch(/^hall is not used, because it seems to notice only movement: in 28 days it said 84 times that ida is here, .* Give it “kind: stir”, of which only what it notices is believed, or use a sensor that tells both states\.$/);
  });

  test("asks whether one that never changed was right, while others moved", () => {
    expect(heard({ phone: [[0, 1]], rail: daily([17 * 60], 1) }).notes).toEqual([
      "phone said that ida is here in all of the 28 days, though others moved. If that is right, all is well; if not, that signal does not notice ida.",
    ]);
    expect(heard({ phone: [[0, 0]], tag: [[0, 0]], rail: daily([17 * 60], 1) }).notes[0]).toMatch(/^phone and tag said that ida is away .* these signals do not notice ida\.$/);
  });

  test("is gravest first: what was down before what is not used", () => {
    const gone = (rows: readonly Row[]): Row[] => rows.filter(([at]) => at < 10 * DAY || at >= 14 * DAY);
    const { notes } = heard({ hall: gone(daily([7 * 60, 12 * 60, 19 * 60], 2)), rail: gone(daily([7 * 60, 17 * 60], 1)) });
    expect(notes.map((note) => note.split(" ").slice(0, 2).join(" "))).toEqual(["Nothing at", "hall is"]);
    expect(notes[0]).toContain("(4.5 days), though otherwise it was never quiet for longer than 12 h. Was it down?");
  });
});
