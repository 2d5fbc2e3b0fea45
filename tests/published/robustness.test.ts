/**
 * Quantitative semantics of past-time operators (Fainekos & Pappas 2009, Donzé & Maler 2010; definitions from memory (M)),
 * against the worked example of nickovic/rtamt's discrete offline operator test (S; a library's test, not from the papers):
 * or = max, once = running maximum, historically = running minimum, not = the negative; the sign says whether it holds.
 *
 * Our margin counts signals instead of measuring a distance, so a number is written as a ladder of signals: rung θ says
 * "the value is θ or more". How many rungs are still missing to reach c is then the distance c − value, minus the robustness
 * of "value ≥ c", as far as that is negative; where it holds, the margin is 0.
 * One difference by design: robustness takes the worst operand of an "and"; the margin adds them, for each is a signal of
 * its own that would have to lie. So for "and" ours is never smaller.
 */
import { describe, expect, test } from "vitest";
import { evaluateParts } from "../../src/judge/rule/evaluate.js";
import { jointHistory } from "../../src/judge/fooled/joint-history.js";
import { marginOf } from "../../src/judge/fooled/margin.js";
import { claimTree, leavesOf } from "../../src/judge/rule/claims.js";
import type { Expression } from "../../src/site/expression.js";
import { timelineOf } from "../../src/timeline/make.js";
import { OFF, ON } from "../../src/timeline/timeline.js";

const left = [100, -1, -2, 5, -1];
const right = [20, -2, 10, 4, -1];
/** Every value of the example but the 100s and 20, which stand above all thresholds asked for. */
const LOWEST = -2;
const HIGHEST = 12;
type Window = { readonly heldMs: number | null; readonly recentlyMs: number | null };
const now: Window = { heldMs: null, recentlyMs: null };

/** Rungs up to `c` of a named series, each looked at through the window. */
const reaches = (series: string, c: number, window: Window): Expression => ({
  op: "all",
  of: Array.from({ length: c - LOWEST + 1 }, (_, i): Expression => ({ op: "is", ref: `${series} ${LOWEST + i}`, state: 1, ...window })),
});

function marginsAtSamples(condition: Expression): number[] {
  const series: Readonly<Record<string, readonly number[]>> = { left, right };
  const parts = evaluateParts(
    condition,
    (ref) => {
      const [name, rung] = ref.split(" ");
      const values = series[name!]!;
      return { timeline: timelineOf(0, values.length, values.map((value, i) => [i, value >= Number(rung) ? ON : OFF] as const)), barriers: [] };
    },
    0,
  );
  const claims = claimTree(condition);
  const leaves = leavesOf(claims);
  const { times, pattern, patterns } = jointHistory(leaves, parts);
  const { ofPattern, exact } = marginOf({ claims, leaves }, { patterns });
  expect(exact).toBe(true);
  return left.map((_, i) => ofPattern[pattern[times.findLastIndex((at) => at <= i)]!]!);
}

/** What is missing of c: the negative robustness, 0 where it holds. */
const missing = (values: readonly number[], c: number): number[] => values.map((value) => Math.max(0, c - value));
const thresholds = Array.from({ length: HIGHEST - LOWEST + 1 }, (_, i) => LOWEST + i);

describe("the margin over a ladder of signals", () => {
  test.each(thresholds)("the value itself reaches %i", (c) => {
    expect(marginsAtSamples(reaches("left", c, now))).toEqual(missing(left, c));
  });

  test.each(thresholds)("once over [0, 1], published [100, 100, −1, 5, 5], reaches %i", (c) => {
    expect(marginsAtSamples(reaches("left", c, { heldMs: null, recentlyMs: 1 }))).toEqual(missing([100, 100, -1, 5, 5], c));
  });

  test.each(thresholds)("historically over [0, 1], published [100, −1, −2, −2, −1], reaches %i once the window lies after the start", (c) => {
    expect(marginsAtSamples(reaches("left", c, { heldMs: 1, recentlyMs: null })).slice(1)).toEqual(missing([100, -1, -2, -2, -1], c).slice(1));
  });

  test.each(thresholds)("or is the larger robustness: the smaller margin, at %i", (c) => {
    const better = left.map((value, i) => Math.max(value, right[i]!));
    expect(marginsAtSamples({ op: "any", of: [reaches("left", c, now), reaches("right", c, now)] })).toEqual(missing(better, c));
  });

  test.each(thresholds)("and is 0 exactly where the smaller robustness is not negative, and never nearer than it, at %i", (c) => {
    const worse = missing(left.map((value, i) => Math.min(value, right[i]!)), c);
    const ours = marginsAtSamples({ op: "all", of: [reaches("left", c, now), reaches("right", c, now)] });
    expect(ours.map((one) => one === 0)).toEqual(worse.map((one) => one === 0));
    ours.forEach((one, i) => expect(one).toBeGreaterThanOrEqual(worse[i]!));
    expect(ours).toEqual(missing(left, c).map((one, i) => one + missing(right, c)[i]!));
  });

  test.each(thresholds)("not turns the sign: falling short of %i", (c) => {
    // One rung read otherwise is enough to fall short of c, whatever the value.
    expect(marginsAtSamples({ op: "not", of: reaches("left", c, now) })).toEqual(left.map((value) => (value >= c ? 1 : 0)));
  });
});
