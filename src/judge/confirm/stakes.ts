import type { RuleOverHistory } from "../replay/replay.js";
import type { Standard } from "../rule/prepare.js";
import { verdictOf } from "../verdict/verdict.js";
import type { Stake } from "../../result/witnesses.js";
import type { RuleJudgement } from "../../result/rules.js";

/** A rule with what was found of it. */
export interface JudgedRule {
  readonly rule: RuleOverHistory;
  readonly judgement: RuleJudgement;
}

/** How many unverified firings and wanted instants turn out which way; the others stay unverified. */
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

/**
 * The verdict and its bounds if some unverified outcomes were known and all else stayed: worked out as the verdict
 * itself.
 */
export function stakeOf({ rule: { standard, site }, judgement }: JudgedRule, supposed: Supposed): Stake {
  const { right = 0, wrong = 0, unwantedMissed = 0, unwantedOther = 0, wantedFailed = 0, wantedServed = 0 } = supposed;
  const { firings, wanted, evidence, reasons } = judgement;
  const { covers } = evidence;
  const ones = (count: number): number[] => new Array<number>(count).fill(1);
  const figures = {
    ...judgement,
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
    ...standard,
    figures,
    singlePoints: judgement.singlePoints,
    inPractice: judgement.cutSets.inPractice,
    // These bear on texts only, and no text is kept.
    cutOff: 0,
    judgedUntil: 0,
    timeZone: site.timeZone,
    // What was measured of the clocks stays as it is, whatever memory says.
    clocks: reasons.filter((one) => one.code === "clock-offset").map((one) => one.text),
    design: judgement.design,
    claims: judgement.claims,
    uneven: reasons.filter((one) => one.code === "uneven-periods").map((one) => one.text),
  });
  return { ...bounds, wrongUpper: Number.isFinite(bounds.wrongUpper) ? bounds.wrongUpper : null, verdict };
}

/**
 * How far two stakes are apart, in limits: the largest change of a bound, divided by the limit it is held against.
 * Without limits (or with a limit of 0) changes are taken as they are.
 */
export function distance(one: Stake, other: Stake, limits: Standard["limits"]): number {
  const by = (limit: number | undefined): number => (limit === undefined || limit === 0 ? 1 : limit);
  const wrong = Math.max(Math.abs((one.wrongUpper ?? 0) - (other.wrongUpper ?? 0)), Math.abs(one.wrongLower - other.wrongLower)) / by(limits?.wrongPerYear);
  const missed = Math.max(Math.abs(one.missedUpper - other.missedUpper), Math.abs(one.missedLower - other.missedLower)) / by(limits?.missedShare);
  return Math.max(wrong, missed);
}
