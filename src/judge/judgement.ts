import type { Act } from "../site/site.js";
import type { Estimate } from "../statistics/estimate.js";
import type { TruthState } from "../timeline/timeline.js";
import type { CutSets } from "./fooled/cut-sets.js";

/** Whether acting was right: by a witness outside the rule or the diary. Without either nobody can tell. */
export type FiringOutcome = "right" | "wrong" | "unverified";

/** One instant at which the rule would have acted. Instants are epoch milliseconds. */
export interface JudgedFiring {
  readonly id: string;
  readonly at: number;
  readonly outcome: FiringOutcome;
  /** What all witnesses together say, the rule's own signals among them. */
  readonly looks: "right" | "wrong" | "unclear";
  readonly why: string;
  /** Wrong only because the rule's `right_when` asks more than the default of its act does. */
  readonly wrongByOwnWords: boolean;
  /** The wanted instant it serves (in time or late), and the seconds from there to the firing; negative: before it. */
  readonly wantedAt: number | null;
  readonly delaySeconds: number | null;
  /**
   * Signals outside the rule that tell the outcome, sorted; the word `diary` where a person wrote it down. Empty when
   * unverified.
   */
  readonly vouchers: readonly string[];
  /**
   * What one witness outside the rule makes of an unverified firing; null where there is none, and of verified ones.
   */
  readonly supported: "right" | "wrong" | null;
}

/** One instant at which the rule should have acted. Instants are epoch milliseconds. */
export interface WantedInstant {
  readonly at: number;
  readonly outcome: "served" | "late" | "missed";
  /** A witness outside the rule, or the diary, says so too. */
  readonly verified: boolean;
  /** Id of the firing that serves it, in time or late; null when missed. */
  readonly firing: string | null;
  /**
   * From the wanted instant to the firing; negative when it fired a little before. Null when missed, or served by a
   * firing before a rest.
   */
  readonly delaySeconds: number | null;
  /**
   * For late and missed: which parts of the rule stood in the way. Empty when served in time by a firing of its own.
   */
  readonly why: string;
}

/** What a reason is about; the same codes as in the findings. */
export type ReasonCode =
  | "wrong-upper-bound"
  | "wrong-lower-bound"
  | "missed-upper-bound"
  | "missed-lower-bound"
  | "single-signal"
  | "single-cause"
  | "single-in-practice"
  | "nothing-wanted"
  | "no-limits"
  | "blind-time"
  | "unclear-time"
  | "days-seen"
  | "uneven-periods"
  | "clock-offset"
  | "holds-for"
  | "own-words";

/**
 * A reason behind a verdict. `clears`: speaks for enabling; `open`: not shown yet; `breaks`: forbids it; `noted`: worth
 * knowing, decides nothing.
 */
export interface Reason {
  readonly code: ReasonCode;
  readonly effect: "clears" | "open" | "breaks" | "noted";
  readonly text: string;
  readonly measured: number | null;
  readonly limit: number | null;
  readonly unit: string;
}

/** The three verdicts. */
export type Verdict = "clear to enable" | "not proven yet" | "do not enable";

/** A step line of a timing diagram: from each instant (epoch milliseconds) on, the state in a word. */
export interface Lane {
  readonly label: string;
  readonly role: "signal" | "reference" | "rule";
  readonly steps: readonly (readonly [number, "on" | "off" | "unknown"])[];
}

/** What the lanes of a rule's timing diagram show over `[from, to)`. */
export interface Excerpt {
  readonly from: number;
  readonly to: number;
  readonly lanes: readonly Lane[];
}

/** An excerpt around a firing that was wrong or could not be verified. */
export interface RuleMoment extends Excerpt {
  readonly firing: string;
}

/**
 * A stretch `[from, to)` (epoch milliseconds) over which one signal alone stood between the rule and a wrong firing.
 */
export interface NearMiss {
  readonly from: number;
  readonly to: number;
  /**
   * Signals each of which alone, by reading differently at some instant of the stretch, would have made the rule fire;
   * sorted.
   */
  readonly inTheWay: readonly string[];
  /** What they would have had to read, in words. */
  readonly why: string;
  /**
   * A witness outside the rule, or the diary, says of part of the stretch at least that firing would have been wrong.
   */
  readonly verified: boolean;
}

/** A near miss; of the worst few with an excerpt around it, or around its beginning where it is long. */
export interface ShownNearMiss extends NearMiss {
  readonly excerpt: Excerpt | null;
}

/**
 * One rule, replayed over the period and judged: the same fields and meanings as in the findings, instants in epoch
 * milliseconds.
 */
export interface RuleJudgement {
  readonly name: string;
  readonly act: Act;
  readonly verdict: Verdict;
  readonly sentence: string;
  readonly reasons: readonly Reason[];
  readonly condition: string;
  readonly rightWhen: string;
  /** Signals the rule refers to, sorted. */
  readonly signals: readonly string[];
  readonly firings: { readonly count: number; readonly right: number; readonly wrong: number; readonly unverified: number };
  readonly wanted: { readonly count: number; readonly served: number; readonly late: number; readonly missed: number; readonly verified: number; readonly verifiedFailed: number };
  readonly wrongPerYear: { readonly unverifiedAsRight: Estimate; readonly unverifiedAsWrong: Estimate; readonly limit: number | null };
  /** Missed or late, of all wanted instants: unverified ones taken as served, and as missed. */
  readonly missedShare: { readonly unverifiedAsServed: Estimate; readonly unverifiedAsMissed: Estimate; readonly limit: number | null };
  /** One-sided and good at every look: what the verdict rests on. `wrongUpper` null: nothing was seen. */
  readonly bounds: { readonly wrongUpper: number | null; readonly wrongLower: number; readonly missedUpper: number; readonly missedLower: number };
  readonly delay: { readonly median: Estimate; readonly p90: Estimate };
  readonly evidence: {
    /** Years of 365.25 days during which every way of firing could be heard. */
    readonly yearsSeen: number;
    /** Share of the period during which some way of firing could not be heard. */
    readonly blindShare: number;
    /**
     * Share of the period during which nobody but the rule's own signals, or one witness alone, can tell whether acting
     * was wanted.
     */
    readonly unclearShare: number;
    readonly moreMonthsIfUnverifiedWrong: number | null;
    readonly moreMonthsIfUnverifiedRight: number | null;
    readonly moreWantedServed: number | null;
    /** The same, should faults go on at the observed rate. */
    readonly atObservedRate: AtObservedRate;
    readonly chanceWithinYear: YearlyChance;
    readonly covers: Covers;
  };
  readonly singlePoints: { readonly signals: readonly string[]; readonly causes: readonly string[] };
  readonly margin: MarginSummary;
  readonly cutSets: CutSets;
  readonly firingList: readonly JudgedFiring[];
  readonly wantedList: readonly WantedInstant[];
  readonly moments: readonly RuleMoment[];
}

/** The chance of at least one wrong firing within a year, 0..1. */
export interface YearlyChance {
  /** At the observed rate, unverified firings taken as right; null where nothing was seen. */
  readonly value: number | null;
  /** From the lower end of that rate's interval ... */
  readonly low: number | null;
  /** ... to the upper end of the rate with unverified firings taken as wrong. */
  readonly high: number | null;
  readonly text: string;
}

/** What a longer watch would take, should things go on as they did. */
export interface AtObservedRate {
  /**
   * Further 30-day months until the limit is met; null without a limit, or where the observed rate itself does not meet
   * it. Unverified firings taken as wrong.
   */
  readonly moreMonths: number | null;
  /** Further wanted instants until the missed limit is met; null likewise. */
  readonly moreWanted: number | null;
}

/**
 * Which days a rule was seen on, and how its faults came: what adds up over periods besides counts. Sizes and counts,
 * no dates.
 */
export interface Covers {
  readonly days: number;
  /** Such as `2026-10`. */
  readonly months: readonly string[];
  /** Days seen of each weekday, Monday first. */
  readonly weekdays: readonly number[];
  /** Verified wrong firings, by the occasions they came in. */
  readonly wrongOccasions: readonly number[];
  /** Verified missed or late instants, by the runs they came in. */
  readonly failureRuns: readonly number[];
  /** Faults of the rule and its signals, by day, of the days that had any. */
  readonly faultsByDay: readonly number[];
  /** Variants tried on the same history, this one included. */
  readonly variants: number;
}

/** How close the rule came to firing. */
export interface MarginSummary {
  /** False: a signal stands in several places of the condition, and margins above 1 are bounds from below. */
  readonly exact: boolean;
  /** Hours of the period by margin, smallest first; null: nothing the signals could say would have made it fire. */
  readonly hoursAt: readonly MarginHours[];
  /** The same of the time in which firing would have been wrong. */
  readonly hoursAtWhileWrong: readonly MarginHours[];
  readonly nearMisses: readonly ShownNearMiss[];
}

/** A margin and the hours at it. */
export type MarginHours = readonly [margin: number | null, hours: number];

/** A state in a word, as timing diagrams write it. */
export const laneStates: Readonly<Record<TruthState, "on" | "off" | "unknown">> = { 0: "off", 1: "on", 2: "unknown" };
