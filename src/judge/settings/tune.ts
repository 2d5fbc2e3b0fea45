/**
 * Tuning: every setting of a rule swept, one at a time and in pairs of what looked best.
 *
 *   rule ─ changes ─ trial (first part | rest) ─┬─ first part ─ frontier ─ best ─┐
 *                                               └─ rest ─────────────────────────┴─ suggestion, or why there is none
 */
import { hostileCases } from "../drills/hostile.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import { singlePointsOf } from "../fooled/single-points.js";
import { letsIn } from "../rule/prepare.js";
import type { RetellableAccounts } from "../../truth/signals/accounts.js";
import type { RuleSpec, Site } from "../../site/site.js";
import { aims, betters, compareAims, dominates, figuresOf, type PartFigures, type PartOutcome } from "./outcome.js";
import { changedCondition, changesOf, joined, noDifference, type Change } from "./settings.js";
import { makeTrial, type SplitOutcome } from "./trial.js";
import type { Interval } from "../../ground/intervals.js";

/** A setting with what it did on the first part of the history and on the rest. */
export interface TunedPoint {
  /** What differs from the rule as it stands, in words. */
  readonly change: string;
  readonly train: PartFigures;
  readonly heldOut: PartFigures;
}

/** What came of tuning a rule. */
export interface RuleTuning {
  /** Epoch milliseconds: settings are chosen on what is before, judged on what is after. */
  readonly splitAt: number;
  /** Settings tried, the present one not counted. */
  readonly tried: number;
  readonly present: TunedPoint;
  /** The present setting is one of the best on the first part. */
  readonly presentOnFrontier: boolean;
  /** On the first part no other setting is as good in every aim and better in one. Fewest wrong first; of equals, one. */
  readonly frontier: readonly TunedPoint[];
  /** Better than the present one on both parts; null where there is none. */
  readonly suggestion: TunedPoint | null;
  /** Why it is suggested, or why nothing is. */
  readonly why: string;
}

/** The share of the period on which settings are chosen. The rest must hold enough to judge by. Our own choice. */
export const TRAIN_SHARE = 0.6;
/** More pairs than this are not tried: a bound on time. Our own choice. */
export const MOST_PAIRS = 120;

interface Tried {
  readonly change: Change | null;
  readonly outcome: SplitOutcome;
  readonly aims: readonly number[];
}

/**
 * Sweeps the rule's settings ({@link changesOf}) one at a time, then pairs of those that came out best on the first part.
 * Chosen on the first part alone: what is no worse than the present setting in wrong firings, wrong and unverified ones together, and
 * wanted instants missed or late, and better in one of them; of those the fewest wrong. That it would merely be quicker is no
 * reason: to hold for a shorter time always is, and what the hold time guards against may not have happened yet. It is
 * suggested only if it is better in the same sense on the rest, which had no part in choosing it. One candidate is judged
 * there, not the next best after it: else the rest would choose too. A setting by which one more signal or shared cause alone
 * could let someone in is not tried at all, and one that opens in one more hostile scene is not suggested.
 * The facts stay those of the present settings.
 */
export function tuneRule(
  rule: RuleSpec,
  site: Site,
  told: RetellableAccounts,
  book: ReferenceBook,
  period: Interval,
  groups?: ReadonlyMap<string, string>,
): RuleTuning {
  const splitAt = Math.round(period.from + TRAIN_SHARE * (period.to - period.from));
  const trial = makeTrial(rule, site, told, book, period, splitAt, groups);
  const tryOut = (change: Change | null): Tried => {
    const outcome = trial(change?.difference ?? noDifference);
    return { change, outcome, aims: aims(outcome.train) };
  };
  const safe = makeSafe(rule, site);
  const present = tryOut(null);
  const singles = changesOf(rule, site).filter(safe).map(tryOut);
  const pairs = pairsOf(frontierOf([present, ...singles])).filter(safe).slice(0, MOST_PAIRS).map(tryOut);
  const frontier = frontierOf([present, ...singles, ...pairs]);
  const point = ({ change, outcome }: Tried): TunedPoint => ({
    change: change?.text ?? "as it stands",
    train: figuresOf(outcome.train, site.confidence),
    heldOut: figuresOf(outcome.heldOut, site.confidence),
  });
  const { chosen, why } = suggestionOf(present, frontier, singles.length, makeKeepsShut(rule, site));
  return {
    splitAt,
    tried: singles.length + pairs.length,
    present: point(present),
    presentOnFrontier: frontier.includes(present),
    frontier: frontier.map(point),
    suggestion: chosen === null ? null : point(chosen),
    why,
  };
}

/** Best first. Of equals the one tried first stays: the present setting before any change, single changes before pairs. */
function frontierOf(tried: readonly Tried[]): Tried[] {
  const kept = tried.filter((one, i) => tried.every((other, j) => !dominates(other.aims, one.aims) && (j >= i || compareAims(other.aims, one.aims) !== 0)));
  return kept.sort((a, b) => compareAims(a.aims, b.aims));
}

function pairsOf(best: readonly Tried[]): Change[] {
  const changes = best.flatMap(({ change }) => (change === null ? [] : [change]));
  return changes.flatMap((one, i) => changes.slice(i + 1).flatMap((other) => (one.setting === other.setting ? [] : [joined(one, other)])));
}

/** Only how many must agree decides who can do it alone; times, rests and bands do not. */
function makeSafe(rule: RuleSpec, site: Site): (change: Change) => boolean {
  if (!letsIn(rule.act)) return () => true;
  const pointsOf = (one: RuleSpec): string[] => Object.entries(singlePointsOf(one, site)).flatMap(([kind, names]) => (names as readonly string[]).map((name) => `${kind} ${name}`));
  const present = new Set(pointsOf(rule));
  return ({ difference }) => difference.quorums.size === 0 || pointsOf({ ...rule, when: changedCondition(rule.when, difference) }).every((name) => present.has(name));
}

/** Whether no hostile scene opens with the change that does not open without it. */
function makeKeepsShut(rule: RuleSpec, site: Site): (change: Change | null) => boolean {
  const opens = (one: RuleSpec): string[] => hostileCases(one, site).filter(({ unlocks }) => unlocks).map(({ scene, state }) => `${scene}, ${state}`);
  const present = new Set(opens(rule));
  return (change) => change === null || opens({ ...rule, when: changedCondition(rule.when, change.difference), restMs: change.difference.restMs ?? rule.restMs }).every((one) => present.has(one));
}

function suggestionOf(present: Tried, frontier: readonly Tried[], singles: number, keepsShut: (change: Change | null) => boolean): { readonly chosen: Tried | null; readonly why: string } {
  if (singles === 0) return { chosen: null, why: "The rule has no setting to sweep." };
  const { train, heldOut } = present.outcome;
  if (train.wanted === 0 && train.firings === 0) return { chosen: null, why: "Nothing was wanted and nothing fired in the first part of the history: there is nothing to choose by." };
  const best = frontier.find((one) => betters(one.aims, present.aims) && keepsShut(one.change));
  if (best === undefined) return { chosen: null, why: "On the first part of the history no setting tried had fewer wrong, unverified, missed or late than the present one without more of another." };
  const told = `on the rest, which had no part in choosing it: ${differenceText(heldOut, best.outcome.heldOut)}`;
  const name = best.change?.text ?? "";
  if (!betters(aims(best.outcome.heldOut), aims(heldOut))) return { chosen: null, why: `"${name}" looked better on the first part of the history, but was not ${told}.` };
  return { chosen: best, why: `"${name}" was better on the first part of the history, and ${told}.` };
}

function differenceText(before: PartOutcome, after: PartOutcome): string {
  const delay = (outcome: PartOutcome): string => {
    const seconds = aims(outcome)[3]!;
    return Number.isFinite(seconds) ? `${seconds} s` : "none";
  };
  return (
    `${before.wrong} wrong and ${before.unverified} unverified became ${after.wrong} and ${after.unverified}, ` +
    `${before.missed + before.late} of ${before.wanted} missed or late became ${after.missed + after.late}, median delay ${delay(before)} became ${delay(after)}`
  );
}
