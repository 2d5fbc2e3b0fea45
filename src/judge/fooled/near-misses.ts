/* eslint-disable @typescript-eslint/no-non-null-assertion -- patterns are numbered, and every array has a place for each of them */
import { expressionText } from "../../site/expression-text.js";
import { HOUR_MS } from "../../ground/units.js";
import { intersection, type Interval } from "../../ground/intervals.js";
import { excerptAround, type LaneHistory } from "../replay/histories.js";
import { MOST_NAMED } from "../rule/words.js";
import type { FooledContext } from "./context.js";
import { eachStretch } from "./joint-history.js";
import type { MarginHours, MarginSummary, NearMiss, NearMissFinding } from "../../result/rules.js";

/**
 * The margin in hours, over the whole period and over the time in which firing would have been wrong, and the near
 * misses.
 */
export function marginSummary(context: FooledContext, lanes: readonly LaneHistory[]): MarginSummary {
  const { margin, situations, wrong } = context;
  const all = new Map<number, number>();
  const whileWrong = new Map<number, number>();
  eachStretch(situations, wrong.looked, (from, to, pattern, isWrong) => {
    const at = margin.ofPattern[pattern]!;
    all.set(at, (all.get(at) ?? 0) + to - from);
    if (isWrong) whileWrong.set(at, (whileWrong.get(at) ?? 0) + to - from);
  });
  return { exact: margin.exact, hoursAt: inHours(all), hoursAtWhileWrong: inHours(whileWrong), nearMisses: withExcerpts(nearMisses(context), lanes) };
}

function inHours(totals: ReadonlyMap<number, number>): MarginHours[] {
  return [...totals].sort(([a], [b]) => a - b).map(([margin, ms]) => [Number.isFinite(margin) ? margin : null, ms / HOUR_MS]);
}

/**
 * The longest stretches over which the margin is 1 and firing would have been wrong, in time order. Left out are
 * stretches next to a time at which the condition is true (they belong to a firing, which is judged by itself) and what
 * falls into a rest after a firing, when the rule would have stayed quiet.
 */
function nearMisses(context: FooledContext): NearMiss[] {
  const { rule, situations, margin, wrong } = context;
  const found: { from: number; to: number; patterns: Set<number>; afterTrue: boolean; beforeTrue: boolean }[] = [];
  let previousTrue = false;
  let open: (typeof found)[number] | null = null;
  eachStretch(situations, wrong.looked, (from, to, pattern, isWrong) => {
    const away = margin.ofPattern[pattern]!;
    if (away === 1 && isWrong) {
      if (open === null) {
        open = { from, to, patterns: new Set(), afterTrue: previousTrue, beforeTrue: false };
        found.push(open);
      }
      open.to = to;
      open.patterns.add(pattern);
    } else {
      if (open !== null) open.beforeTrue = away === 0;
      open = null;
    }
    previousTrue = away === 0;
  });
  return found
    .filter((one) => !one.afterTrue && !one.beforeTrue)
    .flatMap((one) => {
      const stretch = outsideRests(one, rule.replayed.firings, rule.spec.restMs);
      if (stretch === null) return [];
      const inTheWay = [...new Set([...one.patterns].flatMap((pattern) => margin.aloneInPattern[pattern]!))].sort();
      return [{ ...stretch, inTheWay, why: whyText(context, one.patterns, inTheWay), verified: intersection([stretch], wrong.verified).length > 0 }];
    });
}

/** The stretch without the beginning that falls into a rest; null where nothing is left. */
function outsideRests(stretch: Interval, firings: readonly number[], restMs: number): Interval | null {
  const last = firings.findLast((firing) => firing <= stretch.from);
  const from = last === undefined ? stretch.from : Math.max(stretch.from, last + restMs);
  return from < stretch.to ? { from, to: stretch.to } : null;
}

/** The leaves of those signals that did not hold, as the condition has them. */
function whyText({ rule: { leaves, site }, situations }: FooledContext, patterns: ReadonlySet<number>, inTheWay: readonly string[]): string {
  const unmet = leaves.filter((leaf, i) => inTheWay.includes(leaf.claim.signal) && [...patterns].some((pattern) => situations.patterns[pattern]![i] === 0));
  const texts = [...new Set(unmet.map(({ atom, holdsIn }) => expressionText(holdsIn === 1 ? atom : { op: "not", of: atom }, site)))];
  const more = texts.length - MOST_NAMED;
  const named = texts.slice(0, MOST_NAMED).join("; or ") + (more > 0 ? `; or ${more} more` : "");
  return `It would have fired if it had read: ${named}.`;
}

/** At most this many near misses of a rule get an excerpt. Our own choice: a quorum over a fleet has thousands. */
const MOST_EXCERPTS = 8;
/**
 * Of a longer near miss only the beginning is shown: it tells what brought the rule so close. Our own choice; nobody
 * can read a diagram of days.
 */
const MOST_SHOWN_MS = 6 * HOUR_MS;

/**
 * The near misses in their order, the worst of them with an excerpt of the rule's lanes. All are one signal away from
 * firing; worse are those that a witness outside the rule (or the diary) confirms, then the longer, then the earlier
 * ones.
 */
function withExcerpts(misses: readonly NearMiss[], lanes: readonly LaneHistory[]): NearMissFinding[] {
  const worst = new Set(misses.toSorted((a, b) => Number(b.verified) - Number(a.verified) || b.to - b.from - (a.to - a.from) || a.from - b.from).slice(0, MOST_EXCERPTS));
  return misses.map((miss) => ({ ...miss, excerpt: worst.has(miss) ? excerptAround(lanes, miss.from, Math.min(miss.to, miss.from + MOST_SHOWN_MS)) : null }));
}
