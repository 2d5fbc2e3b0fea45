import type { RuleJudgement, Verdict } from "../judgement.js";
import { verdictOf } from "../verdict/verdict.js";
import type { Site } from "../../site/site.js";

/** What a verdict would rest on, were some unverified outcomes known: one-sided bounds at the site's confidence, and the verdict. */
export interface Stake {
  /** Wrong firings a year at most; null when nothing was seen. */
  readonly wrongUpper: number | null;
  readonly wrongLower: number;
  readonly missedUpper: number;
  readonly missedLower: number;
  readonly verdict: Verdict;
}

/** How many unverified things turn out which way; the rest stays unverified. */
export interface Supposed {
  /** Unverified firings found right, and found wrong. */
  readonly right?: number;
  readonly wrong?: number;
  /** Unverified wanted instants that turn out not to have been any: missed ones, and others. */
  readonly unwantedMissed?: number;
  readonly unwantedOther?: number;
  /** Unverified wanted instants that turn out to have been just that: missed or late ones, and those served in time. */
  readonly wantedFailed?: number;
  readonly wantedServed?: number;
}

/** The verdict's bounds with some unverified outcomes supposed known, all else as it is: the verdict's own arithmetic. */
export function stakeOf(site: Site, rule: RuleJudgement, supposed: Supposed): Stake {
  const { right = 0, wrong = 0, unwantedMissed = 0, unwantedOther = 0, wantedFailed = 0, wantedServed = 0 } = supposed;
  const { firings, wanted, evidence } = rule;
  const { covers } = evidence;
  const ones = (count: number): number[] => new Array<number>(count).fill(1);
  const figures = {
    ...rule,
    firings: { count: firings.count, right: firings.right + right, wrong: firings.wrong + wrong, unverified: firings.unverified - right - wrong },
    wanted: {
      ...wanted,
      count: wanted.count - unwantedMissed - unwantedOther,
      missed: wanted.missed - unwantedMissed,
      verified: wanted.verified + wantedFailed + wantedServed,
      verifiedFailed: wanted.verifiedFailed + wantedFailed,
    },
    evidence: {
      ...evidence,
      covers: { ...covers, wrongOccasions: [...covers.wrongOccasions, ...ones(wrong)], failureRuns: [...covers.failureRuns, ...ones(wantedFailed)] },
    },
  };
  const { verdict, bounds } = verdictOf({
    act: rule.act,
    limits: site.limits[rule.act] ?? null,
    confidence: site.confidence,
    figures,
    singlePoints: rule.singlePoints,
    inPractice: rule.cutSets.inPractice,
    cutOff: 0,
    // What was measured of the clocks stays as it is, whatever memory says.
    clocks: rule.reasons.filter((one) => one.code === "clock-offset").map((one) => one.text),
    judgedUntil: 0,
    timeZone: site.timeZone,
    uneven: rule.reasons.filter((one) => one.code === "uneven-periods").map((one) => one.text),
  });
  return { ...bounds, wrongUpper: Number.isFinite(bounds.wrongUpper) ? bounds.wrongUpper : null, verdict };
}

/**
 * How far two stakes are apart, in limits: the largest change of a bound, divided by the limit it is held against. Without
 * limits (or with a limit of 0) changes are taken as they are.
 */
export function distance(one: Stake, other: Stake, limits: { readonly wrongPerYear: number; readonly missedShare: number } | null): number {
  const by = (limit: number | undefined): number => (limit === undefined || limit === 0 ? 1 : limit);
  const wrong = Math.max(Math.abs((one.wrongUpper ?? 0) - (other.wrongUpper ?? 0)), Math.abs(one.wrongLower - other.wrongLower)) / by(limits?.wrongPerYear);
  const missed = Math.max(Math.abs(one.missedUpper - other.missedUpper), Math.abs(one.missedLower - other.missedLower)) / by(limits?.missedShare);
  return Math.max(wrong, missed);
}
