import fc from "fast-check";
import type { Expression } from "../../../src/site/expression.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { min } from "../small-site.js";

/** The signals of the small random cases. */
export const signalNames = ["a", "b", "c"] as const;

/** Three hours: long enough for two bursts and two restarts. */
export const shortDay = { from: 0, to: min(180) };

const wholeMinutes = (least: number, most: number): fc.Arbitrary<number> => fc.integer({ min: least, max: most }).map(min);

/** Histories with up to a dozen steps on half minutes, in all three states. */
export const timelines: fc.Arbitrary<Timeline> = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 359 }), fc.constantFrom(0, 1, 2)), { minLength: 1, maxLength: 12 })
  .map((steps) => {
    const sorted = [...steps].sort((a, b) => a[0] - b[0]);
    return canonicalTimeline(
      shortDay.from,
      shortDay.to,
      sorted.map(([half]) => half * 30_000),
      sorted.map(([, state]) => state),
    );
  });

/** Atoms and compounds over the given names, with "not" anywhere, names more than once, and lists of up to five. */
export function expressions(names: readonly string[]): fc.Arbitrary<Expression> {
  const name = fc.constantFrom(...names);
  const state = fc.constantFrom(0 as const, 1 as const);
  const { condition } = fc.letrec<{ condition: Expression }>((tie) => ({
    condition: fc.oneof(
      { maxDepth: 3, depthSize: "small", withCrossShrink: true },
      fc.record({ op: fc.constant("is" as const), ref: name, state, heldMs: fc.option(wholeMinutes(1, 12)), recentlyMs: fc.option(wholeMinutes(1, 12)) }),
      fc.record({ op: fc.constant("turned" as const), ref: name, to: state, withinMs: wholeMinutes(1, 20) }),
      fc.record({ op: fc.constantFrom("all" as const, "any" as const), of: fc.array(tie("condition"), { minLength: 1, maxLength: 5 }) }),
      fc.array(tie("condition"), { minLength: 1, maxLength: 4 }).chain((of) => fc.integer({ min: 1, max: of.length }).map((count) => ({ op: "atLeast" as const, count, of }))),
      fc.record({ op: fc.constant("not" as const), of: tie("condition") }),
    ),
  }));
  return condition;
}
