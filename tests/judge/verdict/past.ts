import { ruleFigures, type Tally } from "../../../src/judge/evidence/figures.js";
import { limitClaims } from "../../../src/judge/design/claims.js";
import type { DesignRoad, LimitClaim } from "../../../src/result/design.js";
import { verdictSentence } from "../../../src/judge/verdict/sentence.js";
import { verdictOf, type VerdictInput, type VerdictResult } from "../../../src/judge/verdict/verdict.js";
import type { Act, ActLimits } from "../../../src/site/site.js";
import { min } from "../small-site.js";
import type { LyingInPractice } from "../../../src/result/rules.js";

/** What happened to a made-up rule. */
export interface Past {
  readonly act?: Act;
  readonly days?: number;
  readonly blindDays?: number;
  readonly right?: number;
  readonly wrong?: number;
  readonly unverified?: number;
  readonly served?: number;
  readonly late?: number;
  readonly missed?: number;
  readonly limits?: Partial<ActLimits> | null;
  readonly signals?: readonly string[];
  readonly causes?: readonly string[];
  readonly cutOff?: number;
  readonly unverifiedWanted?: number;
  readonly unclearShare?: number;
  readonly unclearDaysShare?: number;
  /** How far firings are checked in random order; none of them if not given. */
  readonly checked?: VerdictInput["figures"]["evidence"]["covers"]["checked"] | undefined;
  readonly months?: readonly string[];
  readonly weekdays?: readonly number[];
  readonly wrongOccasions?: readonly number[];
  readonly failureRuns?: readonly number[];
  readonly faultsByDay?: readonly number[];
  readonly variants?: number;
  /** Days on which every hour was confirmed; all that were seen if not given. */
  readonly confirmedDays?: number;
  readonly confirmedHours?: readonly number[];
  readonly expectedUnverified?: { readonly firings: number; readonly wanted: number };
  readonly claims?: readonly LimitClaim[];
  readonly clocks?: readonly string[];
  readonly uneven?: readonly string[];
  readonly design?: DesignRoad;
  readonly inPractice?: LyingInPractice;
}

export const none = { value: 0, high: 0, why: null };
export const nothingInPractice: LyingInPractice = { wrongHours: 700, upToSize: 2, count: 0, sets: [], expectedPerYear: { independent: none, withSharedCauses: none } };

export const DAY = 24 * 60 * 60_000;

/** Events so even that nobody would call them clumped: one on every other day. */
export const even = (days: number): number[] => Array.from({ length: Math.floor(days / 2) }, () => 1);

/** The past as a verdict takes it. */
export function inputOf(past: Past): VerdictInput {
  const [right, wrong, unverified] = [past.right ?? 0, past.wrong ?? 0, past.unverified ?? 0];
  const [served, late, missed, unverifiedWanted] = [past.served ?? 0, past.late ?? 0, past.missed ?? 0, past.unverifiedWanted ?? 0];
  const days = past.days ?? 31;
  const seenDays = days - (past.blindDays ?? 0);
  const limits = past.limits === null ? null : { wrongPerYear: 0.5, missedShare: 0.1, withinMs: min(2), ...past.limits };
  const tally: Tally = {
    firings: { count: right + wrong + unverified, right, wrong, unverified },
    wanted: {
      count: served + late + missed + unverifiedWanted, served: served + unverifiedWanted, late, missed,
      verified: served + late + missed, verifiedFailed: late + missed,
    },
    yearsSeen: seenDays / 365.25,
    blindShare: (past.blindDays ?? 0) / days,
    unclearShare: past.unclearShare ?? 0,
    unclearDaysShare: past.unclearDaysShare ?? 0,
    covers: {
      days: seenDays, months: past.months ?? ["2026-10"], weekdays: past.weekdays ?? [4, 4, 4, 5, 5, 5, 4],
      wrongOccasions: past.wrongOccasions ?? even(2 * wrong), failureRuns: past.failureRuns ?? even(2 * (late + missed)),
      faultsByDay: past.faultsByDay ?? even(seenDays), variants: past.variants ?? 1,
      confirmedHours: past.confirmedHours ?? new Array<number>(24).fill(past.confirmedDays ?? seenDays),
      checked: past.checked ?? [{ firings: right + wrong + unverified, drawn: 0, wrongDrawn: 0, wrong, unverified }],
      // As many as the hours in which nobody could tell explain.
      expectedUnverified: past.expectedUnverified ?? { firings: unverified, wanted: unverifiedWanted },
    },
  };
  const delays = [...Array.from({ length: served }, () => 10), ...Array.from({ length: late }, () => 300)];
  const act = past.act ?? "unlock";
  const standard = { act, limits, confidence: 0.95 };
  const figures = ruleFigures(tally, delays, standard);
  return {
    ...standard, figures, singlePoints: { signals: past.signals ?? [], causes: past.causes ?? [] },
    inPractice: past.inPractice ?? nothingInPractice, cutOff: past.cutOff ?? 0, clocks: past.clocks ?? [], judgedUntil: Date.UTC(2026, 10, 1), timeZone: "UTC", uneven: past.uneven ?? [], design: past.design ?? null,
    claims: past.claims ?? limitClaims(figures, past.design ?? null, past.design?.history ?? null, standard),
  };
}

/** The verdict on it, with its sentence. */
export function judged(past: Past): VerdictResult & { readonly sentence: string } {
  const input = inputOf(past);
  const result = verdictOf(input);
  return { ...result, sentence: verdictSentence(input, result) };
}

export const effects = (past: Past): string[] => judged(past).reasons.map((reason) => `${reason.code} ${reason.effect}`);
