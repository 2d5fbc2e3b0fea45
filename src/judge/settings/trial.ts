import type { ReferenceBook } from "../../truth/reference/reference.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";
import { factsOutside, factsWithout } from "../rule/facts.js";
import { firingOutcome } from "../replay/outcomes.js";
import { withRests } from "../replay/replay.js";
import { servingOf } from "../replay/acting.js";
import { toleranceOf } from "../rule/prepare.js";
import { countedStretches } from "../replay/wanted.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import type { RetellableAccounts } from "../../truth/signals/accounts.js";
import { causeGroups } from "../../site/cause-groups.js";
import type { Expression } from "../../site/expression.js";
import { expressionRefs } from "../../site/expression-refs.js";
import type { Band, RuleSpec, Site } from "../../site/site.js";
import { collapse } from "../../timeline/collapse.js";
import { durations } from "../../timeline/durations.js";
import { restrict } from "../../timeline/restrict.js";
import { rises } from "../../timeline/rises.js";
import type { Timeline } from "../../timeline/timeline.js";
import { partOutcome, type PartOutcome } from "./outcome.js";
import { changedCondition, type Difference } from "./settings.js";
import type { Interval } from "../../ground/intervals.js";
import { YEAR_MS } from "../../ground/units.js";

/** What a rule did on the first part of the history, and on the rest. */
export interface SplitOutcome {
  readonly train: PartOutcome;
  readonly heldOut: PartOutcome;
}

/**
 * Replays a rule with a difference in it, against the facts as the present settings tell them, and counts firings and wanted
 * instants on either side of `splitAt` by their own instant. Parts of the condition that do not differ are not evaluated again.
 */
export function makeTrial(
  rule: RuleSpec,
  site: Site,
  told: RetellableAccounts,
  book: ReferenceBook,
  period: Interval,
  splitAt: number,
  groups: ReadonlyMap<string, string> = causeGroups(site.signals),
): (difference: Difference) => SplitOutcome {
  const outside = factsOutside(rule, groups, book, site.bridgeMs, "verified").truth;
  const tolerance = toleranceOf(rule, site);
  const { counted } = countedStretches(rule.act, outside, factsWithout([], rule.rightWhen, book, site.bridgeMs).truth, site, tolerance);
  const parts: readonly Interval[] = [{ from: period.from, to: splitAt }, { from: splitAt, to: period.to }];
  const accountOf = makeAccountOf(rule, told);
  const present = evaluateParts(rule.when, (ref) => seen(accountOf(ref, null)), site.bridgeMs);

  return (difference) => {
    const when = changedCondition(rule.when, difference);
    const known: Pick<EvaluatedParts, "get"> = { get: (part) => (hasOtherBand(part, difference) ? undefined : present.get(part)) };
    const condition = timelineOfPart(when, evaluateParts(when, (ref) => seen(accountOf(ref, difference.bands.get(ref) ?? null)), site.bridgeMs, known));
    const found = withRests(rises(collapse(condition)), difference.restMs ?? rule.restMs);
    const firings = found.filter((rise) => rise.restedAfter === null).map((rise) => rise.at);
    const judged = firings.map((at) => ({ at, outcome: firingOutcome(at, tolerance.earlyMs, outside) }));
    const served = counted.map((stretch) => {
      const { outcome, firingAt, byRest } = servingOf(stretch, { firings, rises: found }, rule.act, tolerance);
      // A longer rest must not pass for having acted already where the present one would not: the door may be locked again.
      const restTooLong = byRest && firingAt !== null && stretch.from - firingAt > rule.restMs + tolerance.earlyMs;
      return { at: stretch.from, outcome: restTooLong ? ("missed" as const) : outcome, delaySeconds: firingAt === null || byRest ? null : (firingAt - stretch.from) / 1000 };
    });
    const [train, heldOut] = parts.map((part) =>
      partOutcome(
        judged.filter(({ at }) => at >= part.from && at < part.to).map(({ outcome }) => outcome),
        served.filter(({ at }) => at >= part.from && at < part.to),
        knownYears(condition, part),
      ),
    );
    return { train: train!, heldOut: heldOut! };
  };
}

function knownYears(condition: Timeline, part: Interval): number {
  const { onMs, offMs } = durations(restrict(condition, part.from, part.to));
  return (onMs + offMs) / YEAR_MS;
}

function seen({ live, restarts }: SignalAccount): { readonly timeline: Timeline; readonly barriers: readonly Interval[] } {
  return { timeline: live, barriers: restarts };
}

function hasOtherBand(part: Expression, { bands }: Difference): boolean {
  if (bands.size === 0) return false;
  return expressionRefs(part).some((ref) => bands.has(ref));
}

/** Each other band of a signal is told once. */
function makeAccountOf(rule: RuleSpec, told: RetellableAccounts): (ref: string, band: Band | null) => SignalAccount {
  const retold = new Map<string, SignalAccount>();
  return (ref, band) => {
    const plain = told.accounts.get(ref);
    if (plain === undefined) throw new RangeError(`Rule "${rule.name}" names the signal "${ref}", of which there is no account.`);
    if (band === null) return plain;
    const key = JSON.stringify([ref, band.nearMetres, band.farMetres]);
    const account = retold.get(key) ?? told.withBand(ref, band);
    retold.set(key, account);
    return account;
  };
}
