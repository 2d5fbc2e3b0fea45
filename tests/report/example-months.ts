import type { Findings, RuleFinding } from "../../src/findings/schema.js";
import type { Months } from "../../src/findings/months-schema.js";
import { rateEstimate } from "../../src/statistics/rate.js";
import { shareEstimate } from "../../src/statistics/share.js";
import { exampleFindings } from "./example-findings.js";

const CONFIDENCE = 0.95;
const DAYS = 31 / 365.25;
const none = { value: null, low: null, high: null };
const ends = ({ value, low, high }: { value: number | null; low: number | null; high: number | null }): Months["series"][number]["points"][number]["missedShare"] => ({ value, low, high });

const labels = ["2026-07", "2026-08", "2026-10"];
const points = (missed: readonly number[], phantoms: readonly number[], known: readonly (number | null)[]): Months["series"][number]["points"] =>
  labels.map((label, index) => ({
    label,
    missedShare: known[index] === null ? none : ends(shareEstimate(missed[index]!, 60, CONFIDENCE)),
    phantomsPer30Days: known[index] === null ? none : ends(rateEstimate(phantoms[index]!, 31 / 30, CONFIDENCE, "per 30 days")),
    silencesPer30Days: ends(rateEstimate(2, 31 / 30, CONFIDENCE, "per 30 days")),
    knownShare: known[index] ?? null,
    lagArrivingSeconds: known[index] === null ? null : 14.5,
  }));

/** Two earlier months of Heron Lane with a gap, one result that could not be used, and a wall meter that got worse. */
export const exampleMonths: Months = {
  earlier: [
    { label: "2026-07", from: "2026-06-30T23:00:00.000Z", to: "2026-07-31T23:00:00.000Z", days: 31 },
    { label: "2026-08", from: "2026-07-31T23:00:00.000Z", to: "2026-08-31T23:00:00.000Z", days: 31 },
  ],
  gaps: [{ from: "2026-08-31T23:00:00.000Z", to: "2026-09-30T23:00:00.000Z" }],
  leftOut: [{ what: "reports/heron-lane/2026-06", why: "it is of another site" }],
  changes: [
    { signal: "bay-1-wall", measure: "missed visits", unit: "share", before: 0.0083, now: 0.15, pValue: 0.0001, adjustedPValue: 0.0021, beyondChance: true, text: "bay-1-wall: missed visits rose from 0.83 % to 15 % (p = 0.0021, adjusted for all comparisons)." },
    { signal: "phone-mira", measure: "phantoms", unit: "per 30 days", before: 1, now: null, pValue: 1, adjustedPValue: 1, beyondChance: false, text: null },
  ],
  series: [
    { signal: "bay-1-wall", points: points([1, 0, 9], [2, 3, 2], [0.98, 0.99, 0.97]) },
    { signal: "phone-mira", points: points([0, 0, 0], [1, 1, 0], [0.9, null, 0.92]) },
    { signal: "phone-tom", points: points([0, 0, 0], [1, 1, 0], [null, 0.8, null]) },
  ],
  startedAnew: [{ rule: "unlock on arrival", text: "its evidence starts anew, for its condition is another than in 2026-08." }],
};

const [first, second, ...rest] = exampleFindings.rules;
const counted = { firings: { count: 80, right: 77, wrong: 1, unverified: 2 }, wanted: { count: 81, served: 79, late: 0, missed: 2, verified: 70 }, yearsSeen: DAYS };

/** Evidence of a rule over three months. */
export const exampleCumulated: NonNullable<RuleFinding["cumulated"]> = {
  periods: labels.map((label) => ({ label, ...counted })),
  yearsSeen: 3 * DAYS,
  blindShare: 0.01,
  firings: { count: 240, right: 231, wrong: 3, unverified: 6 },
  wanted: { count: 243, served: 237, late: 0, missed: 6, verified: 210 },
  wrongPerYear: { unverifiedAsRight: rateEstimate(3, 3 * DAYS, CONFIDENCE, "per year"), unverifiedAsWrong: rateEstimate(9, 3 * DAYS, CONFIDENCE, "per year") },
  missedShare: shareEstimate(6, 243, CONFIDENCE),
  wrongUpperBound: 61.7,
  missedUpperBound: 0.048,
  moreMonthsIfUnverifiedWrong: 333.4,
  moreMonthsIfUnverifiedRight: 120.2,
  moreWantedServed: 55,
  periodAlone: { verdict: "do not enable", sentence: "Do not enable: it is this month alone that breaks the limit.", reasons: [] },
};

/** Heron Lane after two earlier months; one rule was the same all the while. */
export const examplePast: Findings = { ...exampleFindings, months: exampleMonths, rules: [first!, { ...second!, cumulated: exampleCumulated }, ...rest] };
