import type { Estimate } from "../../statistics/estimate.js";
import type { EventCategories } from "./event-categories.js";
import type { SignalKind, SubjectClass } from "../../site/site.js";

/**
 * Median and upper tail of a lag in seconds, positive when the signal was later; intervals between order statistics.
 */
export interface LagQuantiles {
  readonly median: Estimate;
  readonly p90: Estimate;
  readonly p95: Estimate;
}

/** How the signal's turns stand against the reference's, both directions together. */
export interface TransitionCounts {
  /** All turns of the reference. */
  readonly reference: number;
  /** Turns of the reference with a turn of the signal (at most one each) within `joinMs`. */
  readonly matched: number;
  /**
   * Turns of the reference that the signal could be charged with missing: those matched or watched for which the diary
   * or several others vouch.
   */
  readonly judged: number;
  /** Of these, those without a turn of the signal although it was known all around: blind time is no miss. */
  readonly missed: number;
  /**
   * False stretches by the word of the diary or several others, said on or said off, away from the reference's turns;
   * one stretch counts once, not at both edges.
   */
  readonly phantom: number;
  /** Extra pairs of turns: false "off" that broke a visit in two (a phantom too) and bounces at a turn (no phantom). */
  readonly fragmented: number;
}

/** Another signal of the same subject. Both figures go by share of time, with one look a stretch. */
export interface Sibling {
  readonly signal: string;
  readonly agreement: Estimate;
  readonly kappa: Estimate;
  readonly sharedCauses: readonly string[];
}

/** Who a signal was judged against. */
export interface JudgedAgainst {
  /** Hours of the period by who stood behind the reference. */
  readonly hours: { readonly diary: number; readonly several: number; readonly one: number; readonly none: number };
  /**
   * Hours in which the signal was known too: where faults are charged to it (diary, several), and where only one other
   * witness spoke.
   */
  readonly jointHours: { readonly charged: number; readonly disputed: number };
  /** The other signals that ever vouched. */
  readonly witnesses: readonly string[];
}

/** One signal judged against a reference built without it. Shares are 0..1. */
export interface SignalScore {
  readonly signal: string;
  readonly subject: string;
  readonly subjectClass: SubjectClass;
  readonly kind: SignalKind;
  readonly source: string;
  readonly model: string | null;
  readonly firmware: string | null;
  readonly shares: readonly string[];
  readonly readings: number;
  readonly judgedAgainst: JudgedAgainst;
  readonly agreement: Estimate;
  readonly agreementGivenOn: Estimate;
  readonly agreementGivenOff: Estimate;
  readonly transitions: TransitionCounts;
  readonly eventCategories: EventCategories;
  readonly missedShare: Estimate;
  readonly phantomRate: Estimate;
  readonly lagOn: LagQuantiles;
  readonly lagOff: LagQuantiles;
  readonly knownShare: number;
  readonly silences: { readonly count: number; readonly hours: number; readonly longestHours: number };
  readonly restarts: number;
  readonly flaps: number;
  readonly siblings: readonly Sibling[];
}

/**
 * A bay's faults (missed and phantom transitions of its signals, and disagreements of two of them) against what the
 * other bays lead one to expect.
 */
export interface BayFaults {
  readonly count: number;
  readonly expected: number | null;
  readonly controlLow: number | null;
  readonly controlHigh: number | null;
  readonly pValue: number | null;
  readonly adjustedPValue: number | null;
  /** Worse than the others, beyond what chance explains with that many bays. */
  readonly standsOut: boolean;
}

/** One bay among its fellows. */
export interface BayScore {
  readonly bay: string;
  readonly vehicle: string | null;
  readonly arrivals: number;
  readonly departures: number;
  /** Share of the time at which the reference knew; null where it never did. */
  readonly occupiedShare: number | null;
  readonly signals: readonly string[];
  readonly missedShare: Estimate;
  readonly phantomRate: Estimate;
  readonly agreement: Estimate;
  /** Mean of its signals' known shares; 0 without signals. */
  readonly knownShare: number;
  readonly faults: BayFaults;
}
