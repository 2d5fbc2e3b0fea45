import type { Findings } from "../../src/result/findings.js";
import type { Months } from "../../src/result/months.js";
import { rateEstimate } from "../../src/statistics/rate.js";
import { shareEstimate } from "../../src/statistics/share.js";
import { exampleFindings } from "./example-findings.js";
import { exampleFigures } from "./example-roads.js";
import type { RuleFinding } from "../../src/result/rules.js";

const CONFIDENCE = 0.95;
const DAYS = 31 / 365.25;
const none = { value: null, low: null, high: null };
const ends = ({ value, low, high }: { value: number | null; low: number | null; high: number | null }): Months["series"][number]["points"][number]["missedShare"] => ({ value, low, high });

const readsAbout = (metres: number | undefined): typeof none | { value: number; low: number; high: number } => (metres === undefined ? none : { value: metres, low: metres - 0.004, high: metres + 0.006 });

const labels = ["2026-07", "2026-08", "2026-10"];
const points = (missed: readonly number[], phantoms: readonly number[], known: readonly (number | null)[], reads: readonly number[] = []): Months["series"][number]["points"] =>
  labels.map((label, index) => ({
    label,
    missedShare: known[index] === null ? none : ends(shareEstimate(missed[index]!, 60, CONFIDENCE)),
    phantomsPer30Days: known[index] === null ? none : ends(rateEstimate(phantoms[index]!, 31 / 30, CONFIDENCE, "per 30 days")),
    silencesPer30Days: ends(rateEstimate(2, 31 / 30, CONFIDENCE, "per 30 days")),
    knownShare: known[index] ?? null,
    lagArrivingSeconds: known[index] === null ? null : 14.5,
    occupiedMetres: readsAbout(reads[index]),
    emptyMetres: readsAbout(reads[index] === undefined ? undefined : reads[index] + 1.1),
  }));

/** Two earlier months of Heron Lane with a gap, one result that could not be used, and a wall meter that got worse. */
export const exampleMonths: Months = {
  earlier: [
    { label: "2026-07", from: Date.parse("2026-06-30T23:00:00.000Z"), to: Date.parse("2026-07-31T23:00:00.000Z"), days: 31 },
    { label: "2026-08", from: Date.parse("2026-07-31T23:00:00.000Z"), to: Date.parse("2026-08-31T23:00:00.000Z"), days: 31 },
  ],
  gaps: [{ from: Date.parse("2026-08-31T23:00:00.000Z"), to: Date.parse("2026-09-30T23:00:00.000Z") }],
  leftOut: [{ what: "reports/heron-lane/2026-06", why: "it is of another site" }],
  changes: [
    { signal: "bay-1-wall", against: null, measure: "missed visits", unit: "share", before: 0.0083, now: 0.15, pValue: 0.0001, adjustedPValue: 0.0021, beyondChance: true, text: "bay-1-wall: missed visits rose from 0.83 % to 15 % (p = 0.0021, adjusted for all comparisons)." },
    { signal: "bay-1-wall", against: null, measure: "reading when occupied", unit: "metres", before: 1.304, now: 1.5, pValue: 0.0000001, adjustedPValue: 0.00001, beyondChance: true, text: "bay-1-wall: the median reading when occupied rose from 130.4 cm to 150 cm (p < 0.0001, adjusted for all comparisons)." },
    { signal: "mat-log", against: "board-log", measure: "clock offset", unit: "seconds", before: 51, now: 91, pValue: 0.0000001, adjustedPValue: 0.00001, beyondChance: true, text: "mat-log against board-log: the clock offset, corrections by the site file taken out, rose from 51 s to 91 s (p < 0.0001, adjusted for all comparisons)." },
    { signal: "phone-mira", against: null, measure: "phantoms", unit: "per 30 days", before: 1, now: null, pValue: 1, adjustedPValue: 1, beyondChance: false, text: null },
  ],
  series: [
    { signal: "bay-1-wall", points: points([1, 0, 9], [2, 3, 2], [0.98, 0.99, 0.97], [1.302, 1.306, 1.5]) },
    { signal: "phone-mira", points: points([0, 0, 0], [1, 1, 0], [0.9, null, 0.92]) },
    { signal: "phone-tom", points: points([0, 0, 0], [1, 1, 0], [null, 0.8, null]) },
  ],
  clocks: [
    {
      first: "board-log", second: "mat-log",
      points: labels.map((label, index) => ({ label, offsetSeconds: index === 0 ? none : { value: index === 1 ? 51 : 91, low: index === 1 ? 50 : 89, high: index === 1 ? 53 : 93 }, driftSecondsPerDay: index === 0 ? none : { value: 0.02, low: -0.01, high: 0.05 } })),
    },
  ],
  siteFile: ["bay-1-overhead: its band in the site file was 110 cm to 143 cm in 2026-08 and is 113 cm to 143 cm now: a change of the site file, not of the sensor."],
  notCompared: ["Clocks are not compared with 2026-07: it is an older result, which kept no clock offsets."],
  startedAnew: [{ rule: "unlock on arrival", text: "its evidence starts anew, for its condition is another than in 2026-08." }],
};

const [first, second, ...rest] = exampleFindings.rules;
const counted = { firings: { count: 80, right: 77, wrong: 1, unverified: 2 }, wanted: { count: 81, served: 79, late: 0, missed: 2, verified: 70, verifiedFailed: 2 }, yearsSeen: DAYS };

/** Evidence of a rule over three months. */
export const exampleCumulated: NonNullable<RuleFinding["cumulated"]> = {
  periods: labels.map((label) => ({ label, ...counted })),
  yearsSeen: 3 * DAYS,
  blindShare: 0.01,
  firings: { count: 240, right: 231, wrong: 3, unverified: 6 },
  wanted: { count: 243, served: 237, late: 0, missed: 6, verified: 210, verifiedFailed: 6 },
  wrongPerYear: { unverifiedAsRight: rateEstimate(3, 3 * DAYS, CONFIDENCE, "per year"), unverifiedAsWrong: rateEstimate(9, 3 * DAYS, CONFIDENCE, "per year") },
  missedShare: shareEstimate(6, 243, CONFIDENCE),
  bounds: { wrongUpper: 61.7, wrongLower: 3.2, missedUpper: 0.21, missedLower: 0.01 },
  design: exampleFigures,
  covers: { days: 91, months: ["2026-08", "2026-09", "2026-10"], weekdays: [13, 13, 13, 13, 13, 13, 13], wrongOccasions: [1, 1, 1], failureRuns: [1, 2, 1, 1, 1], faultsByDay: [], confirmedHours: new Array<number>(24).fill(90), expectedUnverified: { firings: 6, wanted: 33 }, checked: [{ firings: 240, drawn: 0, wrongDrawn: 0, wrong: 3, unverified: 6 }], variants: 1 },
  yearsConfirmed: 90 / 365.25,
  moreMonths: 120.2,
  claims: [{ moreMonths: 0, byCounting: 61.7, byDesign: null }, { moreMonths: 12, byCounting: 30.1, byDesign: null }],
  moreWantedServed: 55,
  periodAlone: { verdict: "do not enable", sentence: "Do not enable: it is this month alone that breaks the limit.", reasons: [] },
};

/** Heron Lane after two earlier months; one rule was the same all the while. */
export const examplePast: Findings = { ...exampleFindings, months: exampleMonths, rules: [first!, { ...second!, cumulated: exampleCumulated }, ...rest] };
