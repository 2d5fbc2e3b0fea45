import { expressionText } from "../../site/expression-text.js";
import type { RuleSpec, Site } from "../../site/site.js";
import { stateAt } from "../../timeline/state-at.js";
import { ON } from "../../timeline/timeline.js";
import { eachStretch } from "./joint-history.js";
import type { Margin } from "./margin.js";
import { MOST_NAMED } from "../rule/words.js";
import type { WrongTime } from "./context.js";
import type { Interval } from "../../ground/intervals.js";

/** A stretch `[from, to)` (epoch milliseconds) over which one signal alone stood between the rule and a wrong firing. */
export interface NearMiss {
  readonly from: number;
  readonly to: number;
  /** Signals each of which alone, by reading differently at some instant of the stretch, would have made the rule fire; sorted. */
  readonly inTheWay: readonly string[];
  /** What they would have had to read, in words. */
  readonly why: string;
  /** A witness outside the rule, or the diary, says of part of the stretch at least that firing would have been wrong. */
  readonly verified: boolean;
}

/**
 * The longest stretches over which the margin is 1 and firing would have been wrong, in time order. Left out is what
 * touches the condition's being true (it led to a firing or followed one, which is judged by itself) and what falls into
 * a rest after a firing, for the rule would have stayed quiet.
 */
export function nearMisses(rule: RuleSpec, site: Site, margin: Margin, wrong: WrongTime, firings: readonly number[]): NearMiss[] {
  const found: { from: number; to: number; patterns: Set<number>; afterTrue: boolean; beforeTrue: boolean }[] = [];
  let previousTrue = false;
  let open: (typeof found)[number] | null = null;
  eachStretch(margin.history, wrong.looked, (from, to, pattern, state) => {
    const away = margin.ofPattern[pattern]!;
    if (away === 1 && state === ON) {
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
      const stretch = outsideRests(one, firings, rule.restMs);
      if (stretch === null) return [];
      const inTheWay = [...new Set([...one.patterns].flatMap((pattern) => margin.aloneInPattern[pattern]!))].sort();
      return [{ ...stretch, inTheWay, why: whyText(margin, one.patterns, inTheWay, site), verified: onWithin(wrong, stretch) }];
    });
}

/** The stretch without its beginning in a rest; null where nothing is left of it. */
function outsideRests(stretch: Interval, firings: readonly number[], restMs: number): Interval | null {
  const last = firings.findLast((firing) => firing <= stretch.from);
  const from = last === undefined ? stretch.from : Math.max(stretch.from, last + restMs);
  return from < stretch.to ? { from, to: stretch.to } : null;
}

function onWithin({ verified }: WrongTime, { from, to }: Interval): boolean {
  if (stateAt(verified, from) === ON) return true;
  return verified.times.some((at, i) => at > from && at < to && verified.states[i] === ON);
}

/** The leaves of those signals that did not hold, as they stand in the condition. */
function whyText({ leaves, history }: Margin, patterns: ReadonlySet<number>, inTheWay: readonly string[], site: Site): string {
  const unmet = leaves.filter((leaf, i) => inTheWay.includes(leaf.claim.signal) && [...patterns].some((pattern) => history.patterns[pattern]![i] === 0));
  const texts = [...new Set(unmet.map(({ atom, holdsIn }) => expressionText(holdsIn === 1 ? atom : { op: "not", of: atom }, site)))];
  const more = texts.length - MOST_NAMED;
  const named = texts.slice(0, MOST_NAMED).join("; or ") + (more > 0 ? `; or ${more} more` : "");
  return `It would have fired had it read: ${named}.`;
}
