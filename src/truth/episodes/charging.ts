import type { Basis, Reference, ReferenceSegment } from "../reference/reference.js";
import type { SignalAccount } from "../signals/account.js";
import { canonicalTimeline } from "../../timeline/make.js";
import { OFF, ON, UNKNOWN, type Timeline, type Turn } from "../../timeline/timeline.js";
import { type CompareSettings, compareTurns, type TurnComparison } from "./compare-turns.js";
import { contradictions, type FalseStretch } from "./false-stretches.js";
import type { Interval } from "../../ground/intervals.js";
import { firstWhere } from "../../ground/search.js";

/**
 * Whether a signal may be charged with contradicting a reference on this basis: the diary, or two independent
 * witnesses. If one other witness contradicts it, one of the two is wrong and nobody knows which.
 */
function mayCharge(basis: Basis): boolean {
  return basis === "diary" || basis === "several";
}

/** The reference where it may charge a signal, unknown elsewhere: the time in which a fault could have been counted. */
export function chargingTimeline({ timeline, segments }: Pick<Reference, "timeline" | "segments">): Timeline {
  return canonicalTimeline(
    timeline.start,
    timeline.end,
    segments.map((segment) => segment.from),
    segments.map((segment) => (mayCharge(segment.basis) ? segment.state : UNKNOWN)),
  );
}

/** Per reference turn of a comparison: whether missing it can be charged, its weaker side counting. */
export function chargedTurns(comparison: Pick<TurnComparison, "reference">, reference: Reference): boolean[] {
  return comparison.reference.map((turn) => mayCharge(basisAround(reference, turn)));
}

/**
 * The false stretches of a signal that are charged to it (`isCharged`). `turns` are its comparisons to off and to
 * on with the same reference, and whether each turn is charged if missed. A contradiction that began when the reference
 * turned is a missed turn and no false stretch; but if that turn cannot be charged (one witness saw it, and the diary
 * speaks only later) the contradiction is, if it is vouched for and longer than `join`: otherwise it would be lost.
 */
export function chargedStretches(
  account: SignalAccount,
  reference: Reference,
  turns: readonly JudgedTurns[],
  settings: CompareSettings,
): FalseStretch[] {
  const { found, stayed } = contradictions(
    account,
    reference.timeline,
    turns.map((one) => one.comparison),
    settings,
  );
  // Turns that are charged if missed, or that the signal made too, late.
  const accounted = turns.map(({ comparison, charged }) => ({
    to: comparison.to,
    at: new Set(
      comparison.reference.filter((_, i) => charged[i] === true || comparison.matches.ofReference[i] !== -1).map((turn) => turn.at),
    ),
  }));
  const otherwiseLost = stayed.filter(
    ({ said, from, to }) => to - from > settings.joinMs && !accounted.some((one) => one.to === 1 - said && one.at.has(from)),
  );
  return [...found, ...otherwiseLost.map((one) => ({ ...one, sort: "phantom" as const, takenBack: false }))]
    .filter((one) => isCharged(one, reference, settings.joinMs))
    .sort((a, b) => a.from - b.from);
}

/** A comparison in one direction, and for each turn of the reference whether missing it can be charged. */
export interface JudgedTurns {
  readonly comparison: TurnComparison;
  readonly charged: readonly boolean[];
}

/** Compares a signal with a reference to off and to on, and says which turns can be charged. */
export function judgedTurns(
  account: SignalAccount,
  reference: Reference,
  settings: CompareSettings,
): readonly [off: JudgedTurns, on: JudgedTurns] {
  const judged = (to: 0 | 1): JudgedTurns => {
    const comparison = compareTurns(account, reference.timeline, to, settings, reference.barriers);
    return { comparison, charged: chargedTurns(comparison, reference) };
  };
  return [judged(OFF), judged(ON)];
}

/**
 * Whether a false stretch is charged to the signal: the diary or several witnesses contradict it for at least half of
 * the time in which the reference does, or for longer than `joinMs` (two witnesses may turn some seconds apart, and in
 * between vouch for what is no longer true).
 */
function isCharged(stretch: FalseStretch, reference: Pick<Reference, "segments">, joinMs: number): boolean {
  let [contradictedMs, vouchedMs] = [0, 0];
  for (const segment of segmentsWithin(reference.segments, stretch)) {
    if (segment.state !== 1 - stretch.said) continue;
    const ms = Math.min(segment.to, stretch.to) - Math.max(segment.from, stretch.from);
    contradictedMs += ms;
    if (mayCharge(segment.basis)) vouchedMs += ms;
  }
  return vouchedEnough(vouchedMs, contradictedMs, joinMs);
}

/** Whether a contradiction of `contradictedMs`, of which `vouchedMs` are vouched for, is charged (`isCharged`). */
export function vouchedEnough(vouchedMs: number, contradictedMs: number, joinMs: number): boolean {
  return vouchedMs > 0 && (2 * vouchedMs >= contradictedMs || vouchedMs > joinMs);
}

const fromWeakest: readonly Basis[] = ["none", "one", "several", "diary"];

/**
 * The weaker basis of the two sides of a turn: just before it may have begun, and from the turn on; none without a
 * reference.
 */
export function basisAround(reference: Pick<Reference, "segments"> | undefined, turn: Turn): Basis {
  if (reference === undefined) return "none";
  const { segments } = reference;
  const before = segments[lastBefore(segments, turn.earliest)];
  const after = segments[lastBefore(segments, turn.at + 1)];
  const sides = [before, after].flatMap((segment, i) =>
    segment !== undefined && segment.to >= (i === 0 ? turn.earliest : turn.at + 1) ? [segment.basis] : [],
  );
  return fromWeakest.find((basis) => sides.includes(basis)) ?? "none";
}

/** The segments that overlap a stretch. */
function segmentsWithin(segments: readonly ReferenceSegment[], { from, to }: Interval): ReferenceSegment[] {
  return segments.slice(Math.max(0, lastBefore(segments, from + 1)), lastBefore(segments, to) + 1).filter((segment) => segment.to > from);
}

/** Index of the last segment that begins before an instant; −1 if none does. */
function lastBefore(segments: readonly ReferenceSegment[], instant: number): number {
  // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- `firstWhere` asks below the count only
  return firstWhere(segments.length, (i) => segments[i]!.from >= instant) - 1;
}
