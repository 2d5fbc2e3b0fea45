import type { SensorFinding } from "../../src/result/sensors.js";
import type { TypicalDay } from "../../src/result/typical-day.js";

const at = (iso: string): number => Date.parse(iso);
const hour = (hours: number): number => hours * 3600;

/** A wall meter blind for a night beside its twin, a phone that drops out, a rail that is fine. The period begins on 30 September, 23:00 UTC. */
export const exampleSensors: readonly SensorFinding[] = [
  {
    signal: "bay-1-wall", subject: "bay-1", state: "mend", fault: "blind", why: ["blind for 17 h", "two false vehicles"], over: { from: at("2026-10-16T16:15:00.000Z"), to: at("2026-10-17T09:15:00.000Z") },
    says: ["Worst on 16 October 2026: it said “nothing there” (118 in) from 17:15 to 10:15 (17 h); your diary said “vehicle”.", "A vehicle counts from 12 to 34 in; its readings ask for `present: [18, 26]`."],
    differed: { count: 2, hours: 17.1, longestHours: 17 },
    stretches: { differed: [[hour(100), hour(100) + 360], [hour(377.25), hour(394.25)]], silent: [[hour(30), hour(31)]], unchecked: [] },
    worst: {
      from: at("2026-10-16T16:15:00.000Z"), to: at("2026-10-17T09:15:00.000Z"), said: "off", truth: "on", text: "says “nothing there” for 17 h", short: "nothing, for 17 h",
      picture: {
        from: at("2026-10-16T07:45:00.000Z"), to: at("2026-10-17T17:45:00.000Z"), words: { on: "vehicle", off: "nothing there" }, expected: [12, 34],
        truth: [[0, "off"], [hour(8.5), "on"]],
        own: { signal: "bay-1-wall", steps: [[0, "off"], [hour(25.5), "on"]], meter: { unit: "in", band: { near: 12, far: 34 }, readings: [[0, 118], [hour(9), 118], [hour(20), 117.5], [hour(25.5), 22], [hour(34), null]] } },
        twin: { signal: "bay-1-overhead", steps: [[0, "off"], [hour(8.5), "on"]], meter: { unit: "ft", band: { near: 3.7, far: 4.7 }, readings: [[0, 8.1], [hour(8.5), 4.2], [hour(30), 4.3]] } },
      },
    },
  },
  {
    signal: "phone-mira", subject: "mira", state: "look", fault: "false reports", why: ["dropped out four times", "leaves 6 min late"], over: { from: at("2026-10-03T01:00:00.000Z"), to: at("2026-10-25T01:42:00.000Z") },
    says: ["Usually comes 11 s late."],
    differed: { count: 1, hours: 1.5, longestHours: 1.5 },
    stretches: { differed: [[hour(577), hour(578.5)]], silent: [], unchecked: [[hour(504), hour(745)]] },
    worst: {
      from: at("2026-10-25T00:10:00.000Z"), to: at("2026-10-25T01:42:00.000Z"), said: "off", truth: "on", text: "says “away” for 92 min", short: "away, for 92 min",
      picture: {
        from: at("2026-10-24T23:20:00.000Z"), to: at("2026-10-25T02:30:00.000Z"), words: { on: "here", off: "away" }, expected: null,
        truth: [[0, "on"]], own: { signal: "phone-mira", steps: [[0, "on"], [3000, "off"], [8520, "on"]], meter: null }, twin: null,
      },
    },
  },
  {
    signal: "yard-door-rail", subject: "yard-door", state: "fine", fault: "none", why: ["saw all 84 changes, 2 s late"], over: null, says: ["Usually 2 s late."],
    differed: { count: 0, hours: 0, longestHours: 0 }, stretches: { differed: [], silent: [], unchecked: [] }, worst: null,
  },
];

const halfHours = (of: (n: number) => number | null): (number | null)[] => Array.from({ length: 48 }, (_, n) => of(n));

/** Mira and the estate are out by day, and half the time at weekends. */
export const exampleDay: TypicalDay = {
  leftOut: 1,
  subjects: [
    { subject: "mira", class: "person", weekdays: { days: 22, halfHours: halfHours((n) => (n < 16 || n > 34 ? 1 : 0.05)) }, weekends: { days: 9, halfHours: halfHours((n) => (n === 10 ? null : 0.5)) }, usual: { way: "away", first: 486, second: 1054, days: 22 } },
    { subject: "bay-1", class: "bay", weekdays: { days: 22, halfHours: halfHours((n) => (n < 16 || n > 34 ? 0.9 : 0)) }, weekends: { days: 9, halfHours: halfHours(() => 1) }, usual: null },
  ],
};
