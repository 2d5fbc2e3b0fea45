import { describe, expect, it } from "vitest";
import { sensorsOf } from "../../../src/compare/sensors/sensors.js";
import { addReading, finishPacking, makePacker } from "../../../src/intake/packed-readings.js";
import { scoreSignals } from "../../../src/compare/signals/signals.js";
import type { SignalSpec } from "../../../src/site/site.js";
import { accountOf, accountsOf, bookOf, MINUTE, minutes, signal, siteWith, subject } from "../../truth/episodes/small-site.js";

const INCH = 0.0254;
const end = 3000;
const period = { from: 0, to: end * MINUTE, days: end / 1440, label: "two days" };
const meter = (id: string): SignalSpec => ({
  ...signal(id, "bay-1"), kind: "distance", reading: { form: "distance", unit: "in" }, expectMs: MINUTE,
  band: { nearMetres: 12 * INCH, farMetres: 34 * INCH, slackMetres: 0, maximumMetres: 118 * INCH },
});
const site = siteWith([subject("bay-1", "bay")], [meter("overhead"), meter("wall")]);
const truth = minutes(end, [[0, 0], [600, 1], [2400, 0]]);
const blind = minutes(end, [[0, 0], [600, 1], [900, 0], [1900, 1], [2400, 0]]);

function inches(id: string, of: (minute: number) => number) {
  const packer = makePacker(INCH);
  for (let minute = 0; minute < end; minute += 1) addReading(packer, minute * MINUTE, of(minute) * INCH);
  return [id, { signal: id, parts: [finishPacking(packer)] }] as const;
}

const readings = new Map([
  inches("overhead", (minute) => (minute >= 600 && minute < 2400 ? 22 : 118)),
  inches("wall", (minute) => (minute >= 600 && minute < 2400 && !(minute >= 900 && minute < 1900) ? 20 : 118)),
]);
const accounts = accountsOf(accountOf("overhead", truth), accountOf("wall", blind));
const book = bookOf({ "bay-1": truth });
const signals = scoreSignals(site, accounts, book, period);
const sensors = sensorsOf({ site, accounts, readings, book, findings: { period, signals, mend: [], phantoms: [], bands: [], changes: [], disagreements: [] }, bandWouldMend: () => false });

describe("the list of sensors", () => {
  it("has the one to mend first, with why and when", () => {
    expect(sensors.map(({ signal: id, state, why }) => [id, state, ...why])).toEqual([["wall", "mend", "blind for 17 h"], ["overhead", "fine", "saw all 2 changes"]]);
    expect(sensors[0]!.stretches).toEqual({ differed: [[900 * 60, 1900 * 60]], silent: [], unchecked: [] });
    expect(sensors[1]!.worst).toBeNull();
  });

  it("says its worst stretch in sentences, with what it read in the unit of the site file", () => {
    expect(sensors[0]!.says).toContain("Worst on 1 January 1970: it said “nothing there” (118 in) from 15:00:00 to 07:40:00 (16 h 40 min); the other sensors said “vehicle”.");
    expect(sensors[0]!.says).toContain("A vehicle counts from 12 to 34 in.");
  });

  it("keeps a few readings of the sensor and of its twin around the worst stretch, and where they should have been", () => {
    const worst = sensors[0]!.worst!;
    expect(worst).toMatchObject({ from: 900 * MINUTE, to: 1900 * MINUTE, said: "off", truth: "on", text: "says “nothing there” for 17 h", short: "nothing, for 17 h" });
    const { own, twin, expected, from, to } = worst.picture!;
    expect([from, to]).toEqual([400 * MINUTE, 2400 * MINUTE]);
    expect(expected).toEqual([12, 34]);
    expect(own.meter!.band).toEqual({ near: 12, far: 34 });
    expect(own.meter!.readings.length).toBeLessThanOrEqual(182);
    const valuesAt = (lane: typeof own, minute: number): number | null => lane.meter!.readings.findLast(([seconds]) => seconds <= (minute - 400) * 60)![1];
    expect([700, 1000, 2100].map((minute) => valuesAt(own, minute))).toEqual([20, 118, 20]);
    expect([700, 1000, 2100].map((minute) => valuesAt(twin!, minute))).toEqual([22, 22, 22]);
  });

  it("shows bars where a signal reads words", () => {
    const plain = siteWith([subject("mira", "person")], [signal("phone", "mira")]);
    const own = accountsOf(accountOf("phone", blind));
    const about = bookOf({ mira: truth });
    const [phone] = sensorsOf({ site: plain, accounts: own, readings: new Map(), book: about, findings: { period, signals: scoreSignals(plain, own, about, period), mend: [], phantoms: [], bands: [], changes: [], disagreements: [] }, bandWouldMend: () => false });
    expect(phone!.worst).toMatchObject({ text: "says “away” for 17 h", picture: { twin: null, expected: null, words: { on: "here", off: "away" } } });
    expect(phone!.worst!.picture!.own).toEqual({ signal: "phone", meter: null, steps: [[0, "off"], [12000, "on"], [30000, "off"], [90000, "on"]] });
  });
});
