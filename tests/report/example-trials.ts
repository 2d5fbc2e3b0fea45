import type { RuleFinding } from "../../src/result/schema.js";
import { quantileEstimate } from "../../src/statistics/quantile.js";
import { rateEstimate } from "../../src/statistics/rate.js";
import { shareEstimate } from "../../src/statistics/share.js";

type Drill = RuleFinding["drills"][number];
type Point = NonNullable<RuleFinding["tuning"]>["present"];

const drill = (on: Drill["on"], name: string, fault: Drill["fault"], [firings, gained, lost, wrongGained, unverifiedGained, missedGained]: readonly [number, number, number, number, number, number]): Drill => ({
  on, name, fault, firings, gained, lost, wrongGained, unverifiedGained, missedGained,
});

/** A few drills of an example rule: some do nothing, some open, some keep shut. */
export const exampleDrills: Drill[] = [
  drill("signal", "phone-mira", "stuck on", [0, 0, 81, 0, 0, 79]),
  drill("signal", "phone-mira", "flapping", [112, 34, 3, 29, 5, 3]),
  drill("signal", "yard-door-rail", "stuck on", [96, 15, 0, 9, 4, 0]),
  drill("signal", "yard-door-rail", "silent", [0, 0, 81, 0, 0, 79]),
  drill("cause", "board-a", "late by 5 min", [40, 2, 43, 0, 2, 42]),
  drill("cause", "board-a", "restart", [81, 0, 0, 0, 0, 0]),
];

/** Hostile scenes of an example rule. */
export const exampleHostile: RuleFinding["hostile"] = [
  { scene: "a phone's position is forged", state: "house empty", unlocks: false, why: "phone of mira: stood in the way: yard-door-rail is open (not so)." },
  { scene: "a power cut and return", state: "people home asleep", unlocks: true, why: "600 s, every signal off at first: phone-mira turned here within 10 min." },
];

const part = (firings: number, wrong: number, unverified: number, wanted: number, missed: number, delays: readonly number[], years: number): Point["train"] => ({
  firings, wrong, unverified, wanted, late: 0, missed,
  wrongPerYear: rateEstimate(wrong + unverified, years, 0.95, "per year"),
  missedShare: shareEstimate(missed, wanted, 0.95),
  delay: quantileEstimate(delays, 0.5, 0.95, "seconds"),
});

const present: Point = { change: "as it stands", train: part(49, 2, 1, 50, 2, [31, 40, 52, 66, 71, 90], 0.05), heldOut: part(32, 1, 0, 32, 1, [28, 41, 60, 75], 0.034) };
const longer: Point = { change: "yard-door-rail: recently 1 min 30 s instead of 3 min", train: part(46, 0, 1, 50, 2, [31, 40, 52, 66, 71, 90], 0.05), heldOut: part(31, 0, 0, 32, 1, [28, 41, 60, 75], 0.034) };

/** Tuning with a suggestion. */
export const exampleTuning: RuleFinding["tuning"] = {
  splitAt: Date.parse("2026-10-19T14:24:00.000Z"),
  tried: 64,
  present,
  presentOnFrontier: false,
  frontier: [longer],
  suggestion: longer,
  why: '"yard-door-rail: recently 1 min 30 s instead of 3 min" was better on the first part of the history, and on the rest, which had no part in choosing it: 1 wrong and 0 unverified became 0 and 0, 1 of 32 missed or late became 1, median delay 51 s became 51 s.',
};
