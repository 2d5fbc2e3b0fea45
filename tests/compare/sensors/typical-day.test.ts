import { describe, expect, it } from "vitest";
import { typicalDay } from "../../../src/compare/sensors/typical-day.js";
import type { SensorFinding } from "../../../src/result/sensors.js";
import { timelineOf } from "../../../src/timeline/make.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { exampleSensors } from "../../report/example-sensors.js";
import { bookOf, siteWith, subject } from "../../truth/episodes/small-site.js";

const DAY = 86_400_000;
const HOUR = DAY / 24;
/** A Monday in London, with the clocks going back on the last day: 19 to 25 October 2026. */
const from = Date.parse("2026-10-18T23:00:00.000Z");
const site = { ...siteWith([subject("mira", "person"), subject("bay-1", "bay"), subject("door", "door")], []), timeZone: "Europe/London" };
const sensorOf = (about: string): SensorFinding => ({ ...exampleSensors[2]!, signal: `${about}-sensor`, subject: about });
const sensors = ["mira", "bay-1", "door"].map(sensorOf);

/** Away on weekdays between two local hours. */
function away(days: number, first: number, last: number, [inside, outside]: readonly [TruthState, TruthState] = [0, 1]) {
  const steps = Array.from({ length: days }, (_, n) => n).flatMap((n): (readonly [number, TruthState])[] =>
    n % 7 >= 5 ? [] : [[from + n * DAY + first * HOUR, inside], [from + n * DAY + last * HOUR, outside]],
  );
  return timelineOf(from, from + days * DAY, [[from, outside], ...steps]);
}

const of = (days: number) => ({ from, to: from + days * DAY });

describe("a typical day", () => {
  it("tells presence by local half-hour, weekdays and weekends apart, and the usual times", () => {
    const day = typicalDay(site, bookOf({ mira: away(14, 8.1, 17.5), "bay-1": away(14, 8.1, 17.5), door: away(14, 8, 9) }), of(7), sensors)!;
    expect(day.subjects.map(({ subject: id }) => id)).toEqual(["mira", "bay-1"]);
    const [mira] = day.subjects;
    expect(mira!.usual).toEqual({ way: "away", first: 486, second: 1050, days: 5 });
    expect(mira!.weekdays.days).toBe(5);
    expect([15, 16, 17, 34, 35].map((n) => mira!.weekdays.halfHours[n])).toEqual([1, 0.2, 0, 0, 1]);
    expect(mira!.weekends).toEqual({ days: 2, halfHours: Array.from({ length: 48 }, () => 1) });
  });

  it("of who is away at night tells when they come and go", () => {
    const lead = away(7, 5.5, 18, [1, 0]);
    expect(typicalDay(site, bookOf({ mira: lead, "bay-1": lead }), of(7), sensors)!.subjects[0]!.usual).toMatchObject({ way: "visits", first: 330, second: 1080 });
  });

  it("has no usual times without a habit, and no share where nothing is known", () => {
    const unknown = timelineOf(from, from + 7 * DAY, [[from, 2], [from + DAY, 1], [from + DAY + HOUR, 2]]);
    const [mira] = typicalDay(site, bookOf({ mira: unknown, "bay-1": away(7, 8, 9) }), of(7), sensors)!.subjects;
    expect(mira!.usual).toBeNull();
    expect(mira!.weekdays.halfHours.slice(0, 4)).toEqual([1, 1, null, null]);
  });

  it("is none below a week, and none where nobody is known", () => {
    const unknown = timelineOf(from, from + 7 * DAY, [[from, 2]]);
    expect(typicalDay(site, bookOf({ mira: away(6, 8, 9), "bay-1": away(6, 8, 9) }), of(6), sensors)).toBeNull();
    expect(typicalDay(site, bookOf({ mira: unknown, "bay-1": unknown }), of(7), sensors)).toBeNull();
  });

  it("takes eight of many, those whose sensors come first, and says how many are left out", () => {
    const bays = Array.from({ length: 20 }, (_, n) => `bay-${n + 1}`);
    const many = { ...site, subjects: bays.map((id) => subject(id, "bay")) };
    const day = typicalDay(many, bookOf(Object.fromEntries(bays.map((id) => [id, away(7, 8, 9)]))), of(7), bays.toReversed().map(sensorOf))!;
    expect(day.leftOut).toBe(12);
    expect(day.subjects.map(({ subject: id }) => id)).toEqual(bays.slice(12));
  });
});
