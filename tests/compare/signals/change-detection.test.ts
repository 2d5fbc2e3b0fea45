import { describe, expect, test } from "vitest";
import { detectChanges } from "../../../src/compare/signals/change-detection.js";
import { localDays } from "../../../src/compare/signals/daily-series.js";
import type { SignalSpec } from "../../../src/site/site.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { Timeline, TruthState } from "../../../src/timeline/timeline.js";
import { readingsOf } from "../../intake/packed.js";
import { accountOf, accountsOf, bookOf, brokenBook, MINUTE, signal, siteWith, subject } from "../../truth/episodes/small-site.js";
import type { SignalChange } from "../../../src/result/witnesses.js";

const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const DAYS = 30;
const period = { from: 0, to: DAYS * DAY };
const overhead: SignalSpec = { ...signal("overhead", "bay-1"), kind: "distance", reading: { form: "distance", unit: "cm" }, band: { nearMetres: 1, farMetres: 1.5, slackMetres: 0, maximumMetres: null } };
const site = siteWith([subject("bay-1", "bay")], [overhead, signal("wall", "bay-1")]);

const days = Array.from({ length: DAYS }, (_, day) => day);
/** The same from run to run, different from day to day. */
const wobble = (day: number): number => ((day * 7 + 3) % 11) / 11 - 0.5;

function told(steps: (day: number) => readonly (readonly [number, TruthState])[]): Timeline {
  return timelineOf(0, DAYS * DAY, [[0, 0], ...days.flatMap((day) => steps(day).map(([at, state]) => [day * DAY + at, state] as const))]);
}
const visit = (lateMs = 0): [number, TruthState][] => [[8 * HOUR + lateMs, 1], [18 * HOUR, 0]];

function changes(wall: Timeline, reads: (day: number) => number = (day) => 1.2 + wobble(day) / 100): SignalChange[] {
  const readings = readingsOf("overhead", days.flatMap((day) => [9, 10, 11].map((hour) => day * DAY + hour * HOUR)).map((at) => [at, reads(Math.floor(at / DAY))] as const));
  const truth = told(() => visit());
  return detectChanges(site, accountsOf(accountOf("overhead", truth), accountOf("wall", wall)), new Map([["overhead", readings]]), bookOf({ "bay-1": truth }), period);
}
const changed = (all: readonly SignalChange[]) => all.filter((one) => one.changed).map(({ signal: id, what, since }) => [id, what, since === null ? null : since / DAY]);

describe("detectChanges", () => {
  test("a steady month changes nothing, and every series was looked at", () => {
    const all = changes(told((day) => visit(60_000 + wobble(day) * 20_000)));
    expect(changed(all)).toEqual([]);
    expect(all.map(({ signal: id, what }) => `${id}: ${what}`)).toEqual([
      "overhead: reading", "overhead: lag to on", "overhead: lag to off", "overhead: silence", "overhead: contradiction",
      "wall: lag to on", "wall: lag to off", "wall: silence", "wall: contradiction",
    ]);
  });

  test("a meter that slips by four centimetres is told with the day and by how much", () => {
    const all = changes(told(() => visit()), (day) => 1.2 + wobble(day) / 100 + (day >= 17 ? 0.04 : 0));
    expect(changed(all)).toEqual([["overhead", "reading", 17]]);
    const slipped = all.find((one) => one.changed)!;
    expect(slipped.before).toBeCloseTo(1.2, 2);
    expect(slipped.after).toBeCloseTo(1.24, 2);
    expect(slipped.chart!.runs).toBeGreaterThan(0);
    expect(slipped.points).toHaveLength(DAYS);
  });

  test("a slow drift is found too", () => {
    expect(changed(changes(told(() => visit()), (day) => 1.2 + wobble(day) / 200 + day * 0.002)).map(([id, what]) => [id, what])).toEqual([["overhead", "reading"]]);
  });

  test("a slip of millimetres is certain and no alarm", () => {
    const all = changes(told(() => visit()), (day) => 1.2 + wobble(day) / 1000 + (day >= 17 ? 0.005 : 0));
    expect(changed(all)).toEqual([]);
    expect(all[0]!.adjustedPValue).toBeLessThan(0.01);
  });

  test("a lag that rises is told; one that falls got better", () => {
    const late = (from: (day: number) => boolean) => told((day) => visit(20_000 + wobble(day) * 10_000 + (from(day) ? 60_000 : 0)));
    expect(changed(changes(late((day) => day >= 20))).map(([id, what]) => [id, what])).toContainEqual(["wall", "lag to on"]);
    expect(changed(changes(late((day) => day < 10)))).toEqual([]);
  });

  test("silence that rises is told; one long outage is not a change", () => {
    const silent = (chosen: (day: number) => number) => told((day) => [[1 * HOUR, 2], [1 * HOUR + chosen(day), 0], ...visit()]);
    expect(changed(changes(silent((day) => (day >= 18 ? HOUR + wobble(day) * HOUR : 5 * MINUTE + wobble(day) * MINUTE)))).map(([id, what]) => [id, what])).toContainEqual(["wall", "silence"]);
    expect(changed(changes(silent((day) => (day === 12 ? 5 * HOUR : 5 * MINUTE + wobble(day) * MINUTE))))).toEqual([]);
  });

  test("with fewer than fourteen days nothing is tested, and the reason told", () => {
    const short = { from: 0, to: 5 * DAY };
    const truth = timelineOf(0, 5 * DAY, [[0, 0]]);
    const all = detectChanges(site, accountsOf(accountOf("overhead", truth), accountOf("wall", truth)), new Map(), bookOf({ "bay-1": truth }), short);
    expect(all.every((one) => !one.changed && one.pValue === null)).toBe(true);
    expect(all.find((one) => one.what === "silence")!.why).toBe("too few days with a value (5; 14 are needed)");
  });

  test("where nobody else can tell, what needs a reference says that no day has a value; a fault of the program in the reference is passed on", () => {
    const truth = told(() => visit());
    const accounts = accountsOf(accountOf("overhead", truth), accountOf("wall", truth));
    const unjudged = detectChanges(site, accounts, new Map(), bookOf({ "bay-1": timelineOf(0, DAYS * DAY, []) }), period);
    expect(unjudged.map(({ what, why }) => `${what}: ${why ?? "looked at"}`)).toEqual(site.signals.flatMap(() => ["lag to on", "lag to off", "silence", "contradiction"].map((what) => (what === "silence" ? `${what}: looked at` : `${what}: too few days with a value (0; 14 are needed)`))));
    expect(() => detectChanges(site, accounts, new Map(), brokenBook, period)).toThrow(TypeError);
  });
});

test("local days are 23, 24 or 25 hours long, and only whole ones count", () => {
  const london = localDays({ from: Date.parse("2026-10-23T12:00:00Z"), to: Date.parse("2026-10-27T00:00:00Z") }, "Europe/London");
  expect(london.map(({ from, to }) => [new Date(from).toISOString(), (to - from) / HOUR])).toEqual([
    ["2026-10-23T23:00:00.000Z", 24], ["2026-10-24T23:00:00.000Z", 25], ["2026-10-26T00:00:00.000Z", 24],
  ]);
});
