import type { Findings } from "../../src/result/findings.js";
import { quantileEstimate } from "../../src/statistics/quantile.js";
import { rateEstimate } from "../../src/statistics/rate.js";
import { slopeEstimate } from "../../src/statistics/theil-sen.js";

const CONFIDENCE = 0.95;
const DAY_MS = 86_400_000;
const FIRST_DAY = Date.parse("2026-09-30T23:00:00.000Z");

/** Bay 1's wall meter slept through a night that somebody wrote down. */
export const exampleConflicts: Findings["diary"]["conflicts"] = {
  count: 2, brief: 1, hours: 7.01,
  list: [
    { signal: "bay-1-wall", subject: "bay-1", said: "off", from: Date.parse("2026-10-08T21:04:00.000Z"), to: Date.parse("2026-10-09T04:04:10.000Z"), file: "diary.csv", line: 4 },
    { signal: "bay-1-wall", subject: "bay-1", said: "off", from: Date.parse("2026-10-09T05:00:00.000Z"), to: Date.parse("2026-10-09T05:00:26.000Z"), file: "diary.csv", line: 4 },
  ],
};

const seconds = (middle: number): number[] => Array.from({ length: 40 }, (_, i) => middle + ((i * 7) % 11) - 5);
const days = Array.from({ length: 30 }, (_, i) => i);
const nothing = { value: null, low: null, high: null, count: 0, unit: "seconds", why: "the two sources watch no subject in common" };
const lateWall = (day: number): number => (day < 18 ? 30 : 95) + ((day * 5) % 7);

const overhead: Findings["bands"][number] = {
  signal: "bay-1-overhead", subject: "bay-1", unit: "ft", readings: 14_612, noEcho: 0,
  histogram: { from: 1.15, width: 0.1, counts: [210, 10_320, 42, 0, 0, 0, 3, 0, 0, 0, 0, 0, 61, 3976] },
  occupied: { metres: 1.281, deviationMetres: 0.009, readings: 10_575 }, empty: { metres: 2.438, deviationMetres: 0.01, readings: 4037 }, emptyIsNoEcho: false,
  looks: { occupied: Array.from({ length: 42 }, (_, i) => 1.271 + i * 0.0005), empty: Array.from({ length: 42 }, (_, i) => 2.431 + i * 0.0003) },
  thresholds: { otsuMetres: 1.86, mixtureMetres: 1.9, mixture: [{ share: 0.724, mean: 1.279, deviation: 0.021 }, { share: 0.276, mean: 2.437, deviation: 0.011 }] },
  present: { nearMetres: 1.128, farMetres: 1.433, slackMetres: 0.03, maximumMetres: null },
  margins: { occupiedToNear: { metres: 0.153, deviations: 17 }, occupiedToFar: { metres: 0.152, deviations: 16.9 }, emptyToBand: { metres: 1.005, deviations: 100.5 } },
  otherModes: [{ metres: 1.19, readings: 31, stretches: 11, hours: 0.8, firstAt: Date.parse("2026-10-03T17:02:00.000Z"), insideBand: true }],
  temperatureMetres: 0.046, suggested: { nearMetres: 1.093, farMetres: 1.381, written: "present: [3.5, 4.6]" }, presentHolds: false, why: null,
  evidence: ["occupied reads 128.1 cm ± 0.9 cm (10575 readings)", "11 stretches (0.8 h) at 119.0 cm while the others say occupied: let in"],
};

/** What there is to say of the witnesses of Heron Lane: every key of the findings, with a case of each kind. */
export const exampleWitnesses: Pick<Findings, "disagreements" | "clocks" | "bands" | "changes" | "questions"> = {
  disagreements: [
    {
      subject: "bay-1", count: 41, brief: 38, hours: 7.6,
      pairs: [{ signals: ["bay-1-overhead", "bay-1-wall"], count: 3, hours: 7.4, jointDays: 29.8, perMonth: rateEstimate(3, 29.8 / 30, CONFIDENCE, "per 30 days") }],
      list: [
        {
          from: Date.parse("2026-10-08T21:04:00.000Z"), to: Date.parse("2026-10-09T04:04:10.000Z"), saidOn: ["bay-1-overhead"], saidOff: ["bay-1-wall"], againstReference: ["bay-1-wall"], reference: "on",
          excerpt: {
            from: Date.parse("2026-10-08T20:22:00.000Z"), to: Date.parse("2026-10-09T04:46:10.000Z"),
            lanes: [
              { label: "bay-1-overhead", role: "signal", steps: [[Date.parse("2026-10-08T20:22:00.000Z"), "off"], [Date.parse("2026-10-08T21:04:00.000Z"), "on"]] },
              { label: "bay-1-wall", role: "signal", steps: [[Date.parse("2026-10-08T20:22:00.000Z"), "off"], [Date.parse("2026-10-09T04:04:10.000Z"), "on"]] },
              { label: "bay-1", role: "reference", steps: [[Date.parse("2026-10-08T20:22:00.000Z"), "off"], [Date.parse("2026-10-08T21:04:00.000Z"), "on"]] },
            ],
          },
        },
      ],
    },
    { subject: "bay-2", count: 0, brief: 0, hours: 0, pairs: [], list: [] },
  ],
  clocks: [
    {
      first: "board-log", second: "mat-log", subjects: ["bay-2"],
      offset: quantileEstimate(seconds(91), 0.5, CONFIDENCE, "seconds"), whenOn: quantileEstimate(seconds(90).slice(20), 0.5, CONFIDENCE, "seconds"), whenOff: quantileEstimate(seconds(92).slice(20), 0.5, CONFIDENCE, "seconds"),
      drift: slopeEstimate(days, days.map((day) => 90 + day * 0.02 + ((day * 7) % 5)), CONFIDENCE, "seconds per day"),
      correctedSeconds: [0, 0], readAs: ["iso, Europe/London", "dd.LL.yyyy HH:mm:ss, Europe/London"], pairs: [{ signals: ["bay-2-overhead", "bay-2-floor"], seconds: seconds(91).sort((a, b) => a - b) }], suggestion: { source: "mat-log", clockCorrection: "-91s", seconds: -91 },
      note: "Both directions are apart by about the same amount, as by a clock. A sensor that is late by nature in both directions would look the same.",
      strained: [{ rule: "unlock on arrival", windowSeconds: 120, offsetSeconds: 93, text: "Clocks of board-log and mat-log may be 1 min 33 s apart; the shortest window of this rule is 2 min, and bears about half of that." }],
    },
    { first: "board-log", second: "phones", subjects: [], offset: nothing, whenOn: nothing, whenOff: nothing, drift: { ...nothing, unit: "seconds per day", why: "fewer than two instants to compare" }, correctedSeconds: [0, 0], readAs: ["iso, Europe/London", "epoch-s, Europe/London"], pairs: [], suggestion: null, note: "Nothing to compare: the two sources watch no subject in common.", strained: [] },
  ],
  bands: [
    overhead,
    {
      ...overhead, signal: "bay-2-overhead", subject: "bay-2", readings: 44, histogram: null, occupied: null, empty: null, looks: { occupied: [], empty: [] }, thresholds: { otsuMetres: null, mixtureMetres: null, mixture: null },
      margins: { occupiedToNear: null, occupiedToFar: null, emptyToBand: null }, otherModes: [], temperatureMetres: null, suggested: null, presentHolds: null, why: "too few readings with an echo (44)", evidence: [],
    },
  ],
  changes: [
    {
      signal: "bay-1-wall", subject: "bay-1", what: "lag to on", unit: "seconds", changed: true, since: FIRST_DAY + 18 * DAY_MS, before: 33, after: 98,
      chart: { centre: 59, low: 43, high: 75, outside: 26, runs: 14 }, pValue: 0.0001, adjustedPValue: 0.0028, why: null,
      points: days.map((day) => [FIRST_DAY + day * DAY_MS, lateWall(day)]),
    },
    { signal: "bay-2-floor", subject: "bay-2", what: "silence", unit: "share", changed: false, since: null, before: null, after: null, chart: null, pValue: null, adjustedPValue: null, why: "too few days with a value (6; 14 are needed)", points: [] },
  ],
  questions: {
    list: [
      {
        id: "tom 2026-10-04T16:00", sort: "event", text: "Did tom come home about 16:13 on Sunday 4 October?",
        answers: [
          {
            says: "Yes",
            rows: [
              { subject: "tom", state: "away", from: Date.parse("2026-10-04T15:00:00.000Z"), to: Date.parse("2026-10-04T15:13:10.000Z") },
              { subject: "tom", state: "here", from: Date.parse("2026-10-04T15:13:10.000Z"), to: Date.parse("2026-10-04T15:17:00.000Z") },
            ],
          },
          { says: "No: was at home all along, 16:00 to 16:17", rows: [{ subject: "tom", state: "here", from: Date.parse("2026-10-04T15:00:00.000Z"), to: Date.parse("2026-10-04T15:17:00.000Z") }] },
        ],
        days: [], about: [{ subject: "tom", from: Date.parse("2026-10-04T15:00:00.000Z"), to: Date.parse("2026-10-04T15:17:00.000Z") }],
        around: { from: Date.parse("2026-10-04T14:50:00.000Z"), to: Date.parse("2026-10-04T15:27:00.000Z") },
        again: false, rules: ["unlock when the van is back"], moments: ["unlock when the van is back/4"],
      },
    ],
    rules: [
      {
        rule: "unlock when the van is back", verdict: "not proven yet", unverifiedFirings: 4, unverifiedWanted: 1, afterDiary: 3, could: ["do not enable"], settledBy: 1, waiting: 0,
        why: "Your diary stops on 3 October; 3 of 4 unverified unlocks came after it. One answer can change the verdict: `keyworthy confirm site.yaml`.",
      },
    ],
    settling: { count: 1, waiting: 0 },
    diaryEnds: Date.parse("2026-10-03T23:00:00.000Z"),
  },
};
