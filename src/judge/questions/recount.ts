/* eslint-disable @typescript-eslint/no-non-null-assertion -- every index runs below the number of steps */
import { holding, intersection, union, type Interval } from "../../ground/intervals.js";
import { lookUp } from "../../ground/look-up.js";
import { firstAtOrAfter, firstWhere } from "../../ground/search.js";
import { remembered } from "../../ground/remembered.js";
import type { FiringOutcome, RuleFinding } from "../../result/rules.js";
import type { Expression } from "../../site/expression.js";
import { patched } from "../../timeline/patched.js";
import { restrict } from "../../timeline/restrict.js";
import { stepAt } from "../../timeline/state-at.js";
import { OFF, type Timeline } from "../../timeline/timeline.js";
import type { ReferenceBook } from "../../truth/reference/reference.js";
import { countable, markedStretches, sameWithinMs, servingOf, wantedStretches } from "../replay/acting.js";
import { firingOutcome } from "../replay/firing-outcomes.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { atomsOf, longestWindowMs } from "../rule/condition.js";
import { evaluateParts, timelineOfPart, type Resolved } from "../rule/evaluate.js";
import { confirmedTimeline, type Backing, type Facts } from "../rule/facts.js";
import { withinOf, withRows, type JudgedRule, type Row } from "./suppose.js";

/** How firings and wanted instants of a rule turned out. */
export type Counts = Pick<RuleFinding, "firings" | "wanted">;

/** Something told by witnesses outside the rule, and by all together. */
interface Both<Told> {
  readonly outside: Told;
  readonly full: Told;
}

/**
 * Counts the firings and wanted instants of a rule as if the diary had some rows too, of one set of rows after another: what
 * `supposing` counts, at a fraction of the cost; what is read too seldom to confirm "in time" counts as confirmed here.
 * Whatever the rows do not touch is counted once: a rule has thousands of firings, and an answer bears on one or two.
 */
export function recounting({ rule, finding }: JudgedRule, bare: ReferenceBook): (rows: readonly Row[]) => Counts {
  const { history: { period }, site: { bridgeMs }, witnesses } = rule;
  const truths = { outside: witnesses.outside.truth, full: witnesses.full.truth };
  const stretchesOf = (truth: Timeline): readonly Interval[] => countable(rule, wantedStretches(truth, bridgeMs), period.to).counted;
  const stretches = { outside: stretchesOf(truths.outside), full: stretchesOf(truths.full) };
  const all = countedIn(rule, truths.outside, stretches, [period], [period]);
  const whole = { ...all, firings: { ...all.firings, count: finding.firings.count } };
  // The longest window, and the longest gap before a turn. A millisecond more, so that the state before the gap is seen.
  const reachMs = longestWindowMs(rule.spec.rightWhen) + bridgeMs + 1;
  const refsOf = remembered((part: Expression) => atomsOf(part).map(({ ref }) => ref));
  return (rows) => {
    const changed = intersection(union(rows.map(({ from, to }) => ({ from, to: to + reachMs }))), [period]);
    const patchesOf = (facts: Facts, backing: Backing): Timeline[] => changed.map((one) => truthSupposing(rule, facts, backing, rows, bare, one, reachMs, refsOf));
    const patches = { outside: patchesOf(witnesses.outside, "verified"), full: patchesOf(witnesses.full, "supported") };
    const after = {
      outside: restretched(rule, truths.outside, patches.outside, stretches.outside),
      full: restretched(rule, truths.full, patches.full, stretches.full),
    };
    const sameMs = sameWithinMs(rule);
    const near = [...changed, ...[...after.outside.moved, ...after.full.moved].map(({ from }) => ({ from, to: from + 1 }))];
    const touched = union(near.map(({ from, to }) => ({ from: from - sameMs, to: to + sameMs })));
    const seenFrom = touched.map(({ from, to }) => ({ from: from - sameMs, to: to + sameMs }));
    const [first, last] = [touched[0], touched.at(-1)];
    if (first === undefined || last === undefined) return whole;
    const { from, to } = { from: Math.max(period.from, first.from), to: Math.min(period.to, last.to + rule.tolerance.earlyMs + 1) };
    const outside = patched(restrict(truths.outside, from, to), patches.outside);
    const before = countedIn(rule, truths.outside, stretches, touched, seenFrom);
    const now = countedIn(rule, outside, { outside: after.outside.stretches, full: after.full.stretches }, touched, seenFrom);
    return added(added(whole, now, 1), before, -1);
  };
}

/** What became of the firings and the wanted instants inside some times; `seenFrom` holds all that tells whether one is verified. */
function countedIn(rule: RuleOverHistory, outside: Timeline, stretches: Both<readonly Interval[]>, times: readonly Interval[], seenFrom: readonly Interval[]): Counts {
  const firings = { count: 0, right: 0, wrong: 0, unverified: 0 } satisfies Record<FiringOutcome | "count", number>;
  const fired = rule.replayed.firings;
  for (const { from, to } of times) {
    for (let i = firstAtOrAfter(fired, from); i < fired.length && fired[i]! < to; i += 1) {
      firings.count += 1;
      firings[firingOutcome(fired[i]!, rule, { truth: outside })] += 1;
    }
  }
  const wanted = { count: 0, served: 0, late: 0, missed: 0, verified: 0, verifiedFailed: 0 };
  const marked = markedStretches(rule, begunIn(stretches.outside, seenFrom), begunIn(stretches.full, times), outside);
  for (const stretch of marked) {
    if (holding(times, stretch.from) === null || holding(rule.witnesses.hidden, stretch.from) !== null) continue;
    const { outcome } = servingOf(stretch, rule.replayed, rule);
    wanted.count += 1;
    wanted[outcome] += 1;
    if (stretch.verified) wanted.verified += 1;
    if (stretch.verified && outcome !== "served") wanted.verifiedFailed += 1;
  }
  return { firings, wanted };
}

/** Those of stretches in order that begin in one of some times. */
function begunIn(stretches: readonly Interval[], times: readonly Interval[]): Interval[] {
  const at = (instant: number): number => firstWhere(stretches.length, (i) => stretches[i]!.from >= instant);
  return union(times).flatMap(({ from, to }) => stretches.slice(at(from), at(to)));
}

function added(a: Counts, b: Counts, times: 1 | -1): Counts {
  const sums = <Key extends string>(one: Record<Key, number>, other: Record<Key, number>): Record<Key, number> =>
    Object.fromEntries(Object.entries<number>(one).map(([key, value]) => [key, value + times * other[key as Key]])) as Record<Key, number>;
  return { firings: sums(a.firings, b.firings), wanted: sums(a.wanted, b.wanted) };
}

/**
 * The wanted stretches of a truth with patches laid over it, and those that came or went. Worked out anew only from the
 * last step before each patch in which the truth is off to the first instant after it at which it is: no stretch goes on over either.
 */
function restretched(rule: RuleOverHistory, truth: Timeline, patches: readonly Timeline[], stretches: readonly Interval[]): { readonly stretches: readonly Interval[]; readonly moved: readonly Interval[] } {
  const anew = union(patches.map(({ start, end }) => ({ from: offBy(truth, start), to: offFrom(truth, end) })));
  const parts = anew.map((one) => {
    const laid = patched(restrict(truth, one.from, one.to), patches.filter(({ start, end }) => start >= one.from && end <= one.to));
    return { old: begunIn(stretches, [one]), found: countable(rule, wantedStretches(laid, rule.site.bridgeMs), truth.end).counted };
  });
  const moved = parts.flatMap(({ old, found }) => [...without(old, found), ...without(found, old)]);
  if (moved.length === 0) return { stretches, moved };
  const kept = stretches.filter(({ from }) => holding(anew, from) === null);
  return { stretches: [...kept, ...parts.flatMap(({ found }) => found)].sort((a, b) => a.from - b.from), moved };
}

function without(some: readonly Interval[], others: readonly Interval[]): Interval[] {
  return some.filter((one) => !others.some(({ from, to }) => from === one.from && to === one.to));
}

/** Where the last step begins, before an instant, in which a timeline is off; its start where there is none. */
function offBy(truth: Timeline, instant: number): number {
  const { start, times, states } = truth;
  let i = stepAt(truth, instant);
  // A step that begins at the instant itself is part of what changes.
  while (i >= 0 && (states[i] !== OFF || times[i]! >= instant)) i -= 1;
  return i < 0 ? start : times[i]!;
}

/** The first instant from another on at which a timeline is off; its end where there is none. */
function offFrom(truth: Timeline, instant: number): number {
  const { end, times, states } = truth;
  if (instant >= end) return end;
  let i = stepAt(truth, instant);
  if (states[i] === OFF) return instant;
  while (i < times.length && states[i] !== OFF) i += 1;
  return times[i] ?? end;
}

/** What the facts would be over a stretch if the diary had these rows too. Only the parts that look at a subject of theirs are worked out anew. */
function truthSupposing(
  { spec, site, history: { period } }: RuleOverHistory,
  { parts, references }: Facts,
  backing: Backing,
  rows: readonly Row[],
  bare: ReferenceBook,
  { from, to }: Interval,
  reachMs: number,
  refsOf: (part: Expression) => readonly string[],
): Timeline {
  const window = { from: Math.max(period.from, from - reachMs), to };
  const own = rows.filter((row) => row.from < to && row.to > window.from);
  const touched = new Set(own.map(({ subject }) => subject));
  const known = { get: (part: Expression) => (refsOf(part).some((ref) => touched.has(ref)) ? undefined : restrict(timelineOfPart(part, parts), window.from, to)) };
  const heard = (subject: string): Resolved => {
    const reference = withinOf(lookUp(references, subject), window);
    const laid = withRows(reference, own, () => withinOf(bare(subject, reference.excluding), window), site);
    return { timeline: confirmedTimeline(laid, backing), barriers: laid.barriers ?? [] };
  };
  return restrict(timelineOfPart(spec.rightWhen, evaluateParts(spec.rightWhen, heard, site.bridgeMs, known)), from, to);
}
