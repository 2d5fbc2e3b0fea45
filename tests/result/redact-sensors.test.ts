import { describe, expect, it } from "vitest";
import { gridClock } from "../../src/result/redact-clock.js";
import { instantsOfSensors, sensorsOnGrid, silencesOnGrid, splitOnGrid } from "../../src/result/redact-sensors.js";
import type { Findings } from "../../src/result/findings.js";
import type { SensorFinding } from "../../src/result/sensors.js";

const HOUR = 3600;
const period = { from: Date.parse("2026-09-30T23:00:00Z"), to: Date.parse("2026-11-01T00:00:00Z"), days: 745 / 24, label: "2026-10" };
/** Seconds from the period's beginning to the evening before clocks go back in London, 22:00. */
const evening = (Date.parse("2026-10-24T21:00:00Z") - period.from) / 1000;

/** Stuck from 22:00 on, through the night of the change, until 14:00: 17 hours that look like 16. */
const stuck: SensorFinding = {
  signal: "wall", subject: "A", state: "mend", fault: "stuck", why: ["stuck for 17 h"], over: null,
  says: ["It says “nothing there” for 17 h; the longest silence was 3 h."],
  differed: { count: 2, hours: 20, longestHours: 17 },
  stretches: { differed: [[1000, 1000 + 3 * HOUR], [evening, evening + 17 * HOUR]], silent: [[evening + HOUR, evening + 10 * HOUR]], unchecked: [[0, (period.to - period.from) / 1000]] },
  worst: {
    from: period.from + evening * 1000, to: period.from + (evening + 17 * HOUR) * 1000, said: "off", truth: "on", text: "says “nothing there” for 17 h", short: "nothing, for 17 h",
    picture: {
      from: period.from + (evening - 2 * HOUR) * 1000, to: period.from + (evening + 19 * HOUR) * 1000,
      own: { signal: "wall", steps: [[0, "on"], [2 * HOUR, "off"], [19 * HOUR, "on"]], meter: { unit: "cm", band: { near: 10, far: 40 }, readings: [[0, 20], [19 * HOUR, 110]] } },
      twin: null, truth: [[0, "on"]], words: { on: "vehicle", off: "nothing there" }, expected: null,
    },
  },
};

const clock = gridClock(instantsOfSensors({ sensors: [stuck], period }), period.from, "Europe/London");
const [placed] = sensorsOnGrid([stuck], [stuck], period.from, clock) as [SensorFinding];

describe("a sensor that was stuck over the night in which clocks went back, told without the change", () => {
  it("was stuck for as long as its ends are apart on the wall", () => {
    expect(placed.stretches.differed[1]).toEqual([evening, evening + 16 * HOUR]);
    expect(placed.differed).toEqual({ count: 2, hours: 19, longestHours: 16 });
    expect(placed.why).toEqual(["stuck for 16 h"]);
    expect(placed.says).toEqual(["It says “nothing there” for 16 h; the longest silence was 3 h."]);
    expect([placed.worst?.text, placed.worst?.short]).toEqual(["says “nothing there” for 16 h", "nothing, for 16 h"]);
  });

  it("is drawn so", () => {
    expect(placed.worst?.picture?.own.steps.map(([at]) => at)).toEqual([0, 2 * HOUR, 18 * HOUR]);
    expect(placed.worst?.picture?.own.meter?.readings.map(([at]) => at)).toEqual([0, 18 * HOUR]);
  });

  it("leaves other stretches as they were, and ends with the days that are told", () => {
    expect(placed.stretches.differed[0]).toEqual([1000, 1000 + 3 * HOUR]);
    expect(placed.stretches.unchecked).toEqual([[0, 31 * 24 * HOUR]]);
  });

  it("was silent for as long in the scores of signals", () => {
    const signals = [{ signal: "wall", silences: { count: 1, hours: 9, longestHours: 9 } }] as unknown as Findings["signals"];
    expect(silencesOnGrid(signals, signals, [placed], [stuck])[0]?.silences).toEqual({ count: 1, hours: 8, longestHours: 8 });
  });

  it("cuts the history by the share of the days", () => {
    expect((splitOnGrid(period.from + 0.6 * (period.to - period.from), period, clock) - clock.moved(period.from)) / 86_400_000).toBeCloseTo(0.6 * 31, 6);
  });
});
