/* eslint-disable @typescript-eslint/no-non-null-assertion -- aims are compared with as many others */
/**
 * Tuning: every setting of a rule swept, one at a time and in pairs of what looked best.
 *
 *   rule ─ changes ─ trial (first part | rest) ─┬─ first part ─ frontier ─ best ─┐
 *                                               └─ rest ─────────────────────────┴─ suggestion, or why there is none
 */
import { quantileEstimate } from "../../statistics/quantile.js";
import { rateEstimate } from "../../statistics/rate.js";
import { shareEstimate } from "../../statistics/share.js";
import type { RetellableAccounts } from "../../truth/signals/accounts.js";
import { openScenes } from "../drills/hostile.js";
import { singlePointsOf } from "../fooled/lying-sets.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { letsIn, prepareRule, type PreparedRule } from "../rule/prepare.js";
import { changedRule, changesOf, joined, noDifference, type Change } from "./settings.js";
import { makeTrial, type SplitOutcome, type TrialOutcome } from "./trial.js";
import type { PartFigures, RuleTuning, TunedPoint } from "../../result/trials.js";

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
 * Sweeps the rule's settings ({@link changesOf}) one at a time, then pairs of those that came out best on the first
 * part. The candidate is chosen on the first part alone: no worse than the present setting in wrong firings, wrong and
 * unverified ones together, and wanted instants missed or late, and better in one of them; of those the fewest wrong.
 * Being quicker is no reason: a shorter hold time always is, and what it guards against may not have happened yet. The
 * candidate is suggested only if it is better in the same sense on the rest, which had no part in choosing it. Only one
 * candidate is judged there, not the next best after it: otherwise the rest would choose too. A setting by which one
 * more signal or shared cause alone could let someone in is not tried at all, and one that opens in one more hostile
 * scene is not suggested. Facts and wanted stretches stay those of the present settings.
 */
export function tuneRule(rule: RuleOverHistory, withBand: RetellableAccounts["withBand"]): RuleTuning {
  const { site, history: { period } } = rule;
  const splitAt = Math.round(period.from + TRAIN_SHARE * (period.to - period.from));
  const trial = makeTrial(rule, withBand, splitAt);
  const tryOut = (change: Change | null): Tried => {
    const outcome = trial(change?.difference ?? noDifference);
    return { change, outcome, aims: aims(outcome.train) };
  };
  const safe = makeSafe(rule);
  const present = tryOut(null);
  const singles = changesOf(rule).filter(safe).map(tryOut);
  const pairs = pairsOf(frontierOf([present, ...singles])).filter(safe).slice(0, MOST_PAIRS).map(tryOut);
  const frontier = frontierOf([present, ...singles, ...pairs]);
  const point = ({ change, outcome }: Tried): TunedPoint => ({
    change: change?.text ?? "as it stands",
    train: figuresOf(outcome.train, site.confidence),
    heldOut: figuresOf(outcome.heldOut, site.confidence),
  });
  const { chosen, why } = suggestionOf(present, frontier, singles.length, makeKeepsShut(rule));
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

/**
 * Best first. Of equals the one tried first stays: the present setting before any change, single changes before pairs.
 */
function frontierOf(tried: readonly Tried[]): Tried[] {
  const kept = tried.filter((one, i) => tried.every((other, j) => !dominates(other.aims, one.aims) && (j >= i || compareAims(other.aims, one.aims) !== 0)));
  return kept.sort((a, b) => compareAims(a.aims, b.aims));
}

function pairsOf(best: readonly Tried[]): Change[] {
  const changes = best.flatMap(({ change }) => (change === null ? [] : [change]));
  return changes.flatMap((one, i) => changes.slice(i + 1).flatMap((other) => (one.setting === other.setting ? [] : [joined(one, other)])));
}

/**
 * Whether no single signal or cause could act alone with the change that could not without. Only quorums decide that.
 */
function makeSafe(rule: PreparedRule): (change: Change) => boolean {
  if (!letsIn(rule.spec.act)) return () => true;
  const pointsOf = (one: PreparedRule): string[] => {
    const { signals, causes } = singlePointsOf(one);
    return [...signals.map((name) => `signal ${name}`), ...causes.map((name) => `cause ${name}`)];
  };
  const present = new Set(pointsOf(rule));
  return ({ difference }) => difference.quorums.size === 0 || pointsOf(prepareRule(rule.site, changedRule(rule.spec, difference))).every((name) => present.has(name));
}

/** Whether no hostile scene opens with the change that does not open without it. */
function makeKeepsShut(rule: PreparedRule): (change: Change | null) => boolean {
  const present = new Set(openScenes(rule));
  return (change) => change === null || openScenes(prepareRule(rule.site, changedRule(rule.spec, change.difference))).every((one) => present.has(one));
}

function suggestionOf(present: Tried, frontier: readonly Tried[], singles: number, keepsShut: (change: Change | null) => boolean): { readonly chosen: Tried | null; readonly why: string } {
  if (singles === 0) return { chosen: null, why: "The rule has no setting to try." };
  const { train, heldOut } = present.outcome;
  if (train.wanted === 0 && train.firings === 0) return { chosen: null, why: "Nothing was wanted and nothing fired in the first part of the history, so there is nothing to choose by." };
  const best = frontier.find((one) => betters(one.aims, present.aims) && keepsShut(one.change));
  if (best === undefined) return { chosen: null, why: "On the first part of the history, no setting tried had fewer wrong, unconfirmed, missed or late than the present one without more of another." };
  const told = `on the rest, which had no part in choosing it: ${differenceText(heldOut, best.outcome.heldOut)}`;
  const name = best.change?.text ?? "";
  if (!betters(aims(best.outcome.heldOut), aims(heldOut))) return { chosen: null, why: `“${name}” looked better on the first part of the history, but was not ${told}.` };
  return { chosen: best, why: `“${name}” was better on the first part of the history, and ${told}.` };
}

function differenceText(before: TrialOutcome, after: TrialOutcome): string {
  const delay = (outcome: TrialOutcome): string => {
    const [, , , seconds] = aims(outcome);
    return Number.isFinite(seconds) ? `${seconds} s` : "none";
  };
  return (
    `${before.wrong} wrong and ${before.unverified} unconfirmed became ${after.wrong} and ${after.unverified}, ` +
    `${before.missed + before.late} of ${before.wanted} missed or late became ${after.missed + after.late}, usual delay ${delay(before)} became ${delay(after)}`
  );
}

/** With intervals at the site's confidence. */
function figuresOf(outcome: TrialOutcome, confidence: number): PartFigures {
  const { firings, wrong, unverified, wanted, late, missed } = outcome;
  return {
    firings,
    wrong,
    unverified,
    wanted,
    late,
    missed,
    wrongPerYear: rateEstimate(wrong + unverified, outcome.yearsSeen, confidence, "per year"),
    missedShare: shareEstimate(missed + late, wanted, confidence),
    delay: quantileEstimate(outcome.delaysSeconds, 0.5, confidence, "seconds"),
  };
}

/**
 * What outcomes are compared by, less being better: wrong firings; wrong and unverified ones together; wanted instants
 * missed or late; the median delay in whole seconds (Infinity where nothing was served).
 */
function aims(outcome: TrialOutcome): readonly [number, number, number, number] {
  const delay = quantileEstimate(outcome.delaysSeconds, 0.5, 0.5, "seconds").value;
  return [outcome.wrong, outcome.wrong + outcome.unverified, outcome.missed + outcome.late, delay === null ? Infinity : Math.round(delay)];
}

/** Whether `a` is no worse in any aim and better in one. */
function dominates(a: readonly number[], b: readonly number[]): boolean {
  return a.every((value, i) => value <= b[i]!) && a.some((value, i) => value < b[i]!);
}

/** As {@link dominates}, without the delay: in time is in time, and late counts as late. */
function betters(a: readonly number[], b: readonly number[]): boolean {
  return dominates(a.slice(0, -1), b.slice(0, -1));
}

/** Order: by the first aim in which they differ. */
function compareAims(a: readonly number[], b: readonly number[]): number {
  const i = a.findIndex((value, at) => value !== b[at]);
  return i < 0 ? 0 : a[i]! < b[i]! ? -1 : 1;
}
