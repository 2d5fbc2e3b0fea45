import { decide } from "../../src/decide/decide.js";
import { FINDINGS_SCHEMA, type Findings, type Undecided } from "../../src/result/findings.js";
import { rateEstimate } from "../../src/statistics/rate.js";
import { shareEstimate } from "../../src/statistics/share.js";
import { wilsonEstimate } from "../../src/statistics/wilson.js";
import { exampleScene } from "./example-scene.js";
import { exampleRules } from "./example-rules.js";
import { exampleProposals } from "./example-proposals.js";
import { exampleReferences } from "./example-references.js";
import { exampleDay, exampleSensors } from "./example-sensors.js";
import { exampleSignals } from "./example-signals.js";
import { exampleConflicts, exampleWitnesses } from "./example-witnesses.js";
import type { BayScore } from "../../src/result/signals.js";
import type { Episode } from "../../src/result/episodes.js";

const CONFIDENCE = 0.95;
const MONTHS = 31 / 30;

/** Two bays are too few to say which is the odd one. */
const uncompared = (count: number): BayScore["faults"] => ({ count, expected: null, controlLow: null, controlHigh: null, pValue: null, adjustedPValue: null, standsOut: false });

const bays: BayScore[] = [
  {
    bay: "bay-1", vehicle: "estate", arrivals: 42, departures: 42, occupiedShare: 0.612, signals: ["bay-1-overhead", "bay-1-wall"],
    missedShare: shareEstimate(7, 168, CONFIDENCE), phantomRate: rateEstimate(10, MONTHS, CONFIDENCE, "per 30 days"), agreement: wilsonEstimate(0.9649, 164, CONFIDENCE), knownShare: 0.978,
    faults: uncompared(17),
  },
  {
    bay: "bay-2", vehicle: null, arrivals: 20, departures: 20, occupiedShare: null, signals: ["bay-2-overhead", "bay-2-floor"],
    missedShare: shareEstimate(1, 40, CONFIDENCE), phantomRate: rateEstimate(0, MONTHS, CONFIDENCE, "per 30 days"), agreement: wilsonEstimate(0.9942, 80, CONFIDENCE), knownShare: 0.701,
    faults: uncompared(1),
  },
];

const episodes: Episode[] = Array.from({ length: 24 }, (_, index) => {
  const anchor = Date.parse("2026-10-02T06:50:00.000Z") + index * 31 * 3_600_000;
  const after = (minutes: number): number => anchor + minutes * 60_000;
  const arrival = index % 2 === 0;
  return {
    id: `episode-${index}`,
    kind: arrival ? "arrival" : "departure",
    anchor,
    anchorSubject: index % 5 === 4 ? "bay-2" : "bay-1",
    from: after(-2),
    to: after(4),
    subjects: ["bay-1", "mira", "yard-door"],
    basis: index % 7 === 0 ? "diary" : index % 5 === 0 ? "one" : "several",
    participants: [
      { signal: "bay-1-overhead", subject: "bay-1", outcome: "agreed", lagSeconds: 12 },
      { signal: "bay-1-wall", subject: "bay-1", outcome: index % 6 === 1 ? "missed" : "fragmented", lagSeconds: index % 6 === 1 ? null : 31.5 },
      { signal: "yard-door-rail", subject: "yard-door", outcome: "early", lagSeconds: -0.4 },
      { signal: "phone-mira", subject: "mira", outcome: index % 4 === 3 ? "unknown" : "late", lagSeconds: index % 4 === 3 ? null : 214 },
    ],
  };
});

const undecided: Undecided = {
  schema: FINDINGS_SCHEMA,
  redacted: false,
  made: { at: Date.parse("2026-11-02T08:15:00.000Z"), by: "keyworthy 0.1.0" },
  site: {
    name: "Heron Lane",
    timeZone: "Europe/London",
    confidence: CONFIDENCE,
    subjects: [
      { id: "bay-1", class: "bay", vehicle: "estate" },
      { id: "bay-2", class: "bay", vehicle: null },
      { id: "yard-door", class: "door", vehicle: null },
      { id: "mira", class: "person", vehicle: null },
      { id: "tom", class: "person", vehicle: null },
    ],
    sharedCauses: [
      { cause: "board-a", signals: ["bay-1-overhead", "bay-1-wall", "yard-door-rail", "yard-door-leaf"] },
      { cause: "board-b", signals: ["bay-2-overhead"] },
      { cause: "hub", signals: exampleSignals.filter((signal) => signal.shares.includes("hub")).map((signal) => signal.signal) },
    ],
    settings: { bridgeMs: 60_000, joinMs: 600_000, restartMs: 5_000 },
  },
  period: { from: Date.parse("2026-09-30T23:00:00.000Z"), to: Date.parse("2026-11-01T00:00:00.000Z"), days: 31.0417, label: "2026-10" },
  ledger: [
    {
      source: "board-log", file: "exports/board-2026-10.csv", read: 177_412, accepted: 176_893, duplicate: 402, setAside: 117,
      reasons: [{ reason: "value is not a number", count: 61 }, { reason: "distance is zero or negative", count: 40 }, { reason: "time stamp cannot be read", count: 16 }],
      missingCells: 12, unreadableCells: 101, repeatedHourRows: 238, shiftedRows: 0, outOfOrderRows: 5, cutOff: false, first: Date.parse("2026-09-30T23:00:04.000Z"), last: Date.parse("2026-10-31T23:59:51.000Z"),
    },
    { source: "phones", file: "exports/phones.csv", read: 1_204, accepted: 1_204, duplicate: 0, setAside: 0, reasons: [], missingCells: 311, unreadableCells: 0, repeatedHourRows: 4, shiftedRows: 0, outOfOrderRows: 0, cutOff: false, first: Date.parse("2026-10-01T05:12:00.000Z"), last: Date.parse("2026-10-31T22:40:13.000Z") },
    { source: "mat-log", file: "exports/mat.csv.gz", read: 36, accepted: 36, duplicate: 0, setAside: 0, reasons: [], missingCells: 0, unreadableCells: 0, repeatedHourRows: 0, shiftedRows: 0, outOfOrderRows: 0, cutOff: false, first: null, last: null },
  ],
  diary: { entries: 6, hours: 18.5, conflicts: exampleConflicts },
  references: exampleReferences,
  signals: exampleSignals,
  bays,
  episodes,
  phantoms: [
    { signal: "bay-1-wall", subject: "bay-1", said: "on", from: Date.parse("2026-10-03T11:02:00.000Z"), to: Date.parse("2026-10-03T11:04:31.000Z") },
    { signal: "phone-mira", subject: "mira", said: "off", from: Date.parse("2026-10-25T00:10:00.000Z"), to: Date.parse("2026-10-25T01:42:00.000Z") },
    { signal: "phone-tom", subject: "tom", said: "on", from: Date.parse("2026-10-28T02:00:00.000Z"), to: Date.parse("2026-10-28T09:30:00.000Z") },
  ],
  mend: [],
  sensors: exampleSensors,
  typicalDay: exampleDay,
  stirs: [
    {
      subject: "tom",
      hereHours: 402.5,
      signals: [{ signal: "hall-motion", times: 812, timesADayHere: 48.4 }, { signal: "kitchen-tap", times: 96, timesADayHere: null }],
      silences: { day: { count: 640, medianHours: 0.21, longHours: 1.6, longestHours: 3.2 }, night: { count: 0, medianHours: null, longHours: null, longestHours: null } },
    },
  ],
  ...exampleWitnesses,
  rules: exampleRules,
  proposals: exampleProposals,
  judged: exampleRules.map(({ act, digest }) => ({ act, digest, settings: 24 })),
  tried: [],
  months: null,
  histories: null,
  cost: [
    {
      opens: "unlock on arrival", closes: "lock when all have left", openHours: 301.2, openAndEmptyHours: 6.4, openUnclearHours: 11.8, lockedOut: 1.94, closedOnSomebody: 0, minutesWaited: 48.1,
      line: `A month with “unlock on arrival” and “lock when all have left”: unlocked for 301 h, of which nobody was here for 6.4 h and nobody can tell for 11.8 h; locked out about 2 times, 48.1 min waited at the door, never closed while somebody was here.`,
    },
  ],
  notes: ["242 rows carry a local time from the hour that a clock change repeats; they were told apart by their order in the file.", "117 of 178652 rows were set aside and not used; set-aside.csv lists each with its reason."],
};

const diary = [{ from: Date.parse("2026-09-30T23:00:00.000Z"), to: Date.parse("2026-10-21T23:00:00.000Z") }];
const decision = decide(undecided, { siteFile: "site.yaml", diary });

/** Heron Lane in October 2026: two bays, eight signals, three rules with a verdict each; clocks went back on the 25th. */
export const exampleFindings: Findings = { ...undecided, decision: { ...decision, rules: decision.rules.map((rule, i) => (i === 0 ? { ...rule, worst: exampleScene } : rule)) } };

const fleetFaults: readonly (readonly [number, number, number, number, number, boolean])[] = [
  [3, 4.1, 1, 9, 0.81, false],
  [5, 4, 1, 8, 0.6, false],
  [17, 3.2, 0, 7, 0.00004, true],
  [0, 4.3, 1, 9, 0.09, false],
  [4, 3.9, 1, 8, 0.98, false],
];

/** A depot of five bays, of which the third stands out. */
export const exampleFleet: Findings = {
  ...exampleFindings,
  site: { ...exampleFindings.site, name: "Mill Depot" },
  bays: fleetFaults.map(([count, expected, controlLow, controlHigh, pValue, standsOut], index) => ({
    ...bays[0]!,
    bay: `bay-${index + 1}`,
    faults: { count, expected, controlLow, controlHigh, pValue, adjustedPValue: Math.min(1, pValue * 5), standsOut },
  })),
};
