import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { LagRange, SceneSubject, SignalLags } from "../../../src/judge/gap/gap.js";
import { makeSearcher } from "../../../src/judge/gap/combine.js";
import { gapQuestion } from "../../../src/judge/gap/question.js";
import { searchGap } from "../../../src/judge/gap/search.js";
import { within } from "../../../src/judge/replay/firing-outcomes.js";
import { isAtom } from "../../../src/judge/rule/condition.js";
import { prepareRule, type PreparedRule } from "../../../src/judge/rule/prepare.js";
import type { Expression } from "../../../src/site/expression.js";
import { timelineOf } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { rises } from "../../../src/timeline/rises.js";
import { ON, type Timeline, type TruthState } from "../../../src/timeline/timeline.js";
import { min, ruleOf, siteOf, truthOf } from "../small-site.js";
import { expressions } from "../drills/arbitrary.js";

// A twin of the search that knows nothing of ages and cells: it makes worlds at random, evaluates whole timelines with
// the operators of the replay, and looks for a firing that is wrong.

const site = siteOf({ subjects: { p: "person", q: "bay" }, signals: { a: "p", b: "p", c: "q" } });
const signalsOf: Readonly<Record<string, readonly string[]>> = { p: ["a", "b"], q: ["c"] };
/** Nobody moves before this, and every window has passed by then. */
const quietUntil = -min(120);
const end = min(240);

const lagRanges = fc.tuple(fc.integer({ min: -2, max: 4 }), fc.integer({ min: 0, max: 6 })).map(([least, more]): LagRange => ({ leastMs: least * 30_000, mostMs: (least + more) * 30_000 }));
const atomCount = (part: Expression): number => (isAtom(part) ? 1 : part.op === "not" ? atomCount(part.of) : part.of.reduce((sum, one) => sum + atomCount(one), 0));
const small = (names: readonly string[]): fc.Arbitrary<Expression> => expressions(names).filter((one) => atomCount(one) <= 4);
const cases = fc.record({
  when: small(["a", "b", "c"]),
  rightWhen: small(["p", "q"]),
  act: fc.constantFrom("unlock" as const, "lock" as const),
  lags: fc.tuple(lagRanges, lagRanges, lagRanges).map(([a, b, c]): SignalLags => new Map([["a", a], ["b", b], ["c", c]])),
});

/** Instants on a grid of half minutes, each a few milliseconds of its own beside it: nothing coincides by chance. */
function worldsFrom(seed: number, count: number, lags: SignalLags): SceneSubject[][] {
  let state = seed;
  const below = (most: number): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * most);
  };
  let beside = 0;
  const world = (): SceneSubject[] | null => {
    const subjects = Object.entries(signalsOf).map(([subject, signals]): SceneSubject => {
      const instants = Array.from({ length: below(3) }, () => below(60) * 30_000 + (beside = (beside + 131) % 10_000)).sort((x, y) => x - y);
      const changes = instants.map((at) => ({
        at,
        told: signals.map((signal) => {
          const { leastMs, mostMs } = lags.get(signal)!;
          const share = [0, 1, below(1000) / 1000][below(3)]!;
          return { signal, at: at + leastMs + Math.round((mostMs - leastMs) * share) };
        }),
      }));
      return { subject, first: below(2) as 0 | 1, changes };
    });
    const inOrder = subjects.every(({ changes }) => changes.every((one, i) => i === 0 || one.told.every(({ at }, j) => at > changes[i - 1]!.told[j]!.at)));
    return inOrder ? subjects : null;
  };
  return Array.from({ length: count }, world).filter((one) => one !== null);
}

interface Played {
  readonly condition: Timeline;
  readonly right: Timeline;
}

function play(scene: readonly SceneSubject[], when: Expression, rightWhen: Expression): Played {
  const lines = new Map<string, Timeline>();
  const put = (ref: string, first: 0 | 1, instants: readonly number[]): void => {
    const steps = instants.map((at, i) => [at, (i % 2 === 0 ? 1 - first : first) as TruthState] as const);
    lines.set(ref, timelineOf(quietUntil, end, [[quietUntil, first], ...steps]));
  };
  for (const { subject, first, changes } of scene) {
    put(subject, first, changes.map(({ at }) => at));
    for (const signal of signalsOf[subject]!) put(signal, first, changes.map(({ told }) => told.find((one) => one.signal === signal)?.at ?? 0));
  }
  const resolve = (ref: string): { timeline: Timeline; barriers: [] } => ({ timeline: lines.get(ref)!, barriers: [] });
  return { condition: truthOf(when, resolve), right: truthOf(rightWhen, resolve) };
}

const wrongAt = (at: number, { right }: Played, earlyMs: number): boolean => within(right, at, at + earlyMs).offThroughout;

/** The scene with every subject and signal that the rule does not name standing still. */
function whole(scene: readonly SceneSubject[]): SceneSubject[] {
  return Object.entries(signalsOf).map(([subject, signals]) => {
    const found = scene.find((one) => one.subject === subject) ?? { subject, first: 0 as const, changes: [] };
    return { ...found, changes: found.changes.map(({ at, told }) => ({ at, told: signals.map((signal) => told.find((one) => one.signal === signal) ?? { signal, at }) })) };
  });
}

function isPossible(scene: readonly SceneSubject[], lags: SignalLags): boolean {
  return scene.every(({ changes }) => changes.every(({ at, told }) => told.every((one) => one.at - at >= lags.get(one.signal)!.leastMs && one.at - at <= lags.get(one.signal)!.mostMs)));
}

const prepared = (one: { when: Expression; rightWhen: Expression; act: "unlock" | "lock" }): PreparedRule => prepareRule(site, ruleOf(one.when, one.rightWhen, { act: one.act }));

describe("the search and a replay of random worlds", () => {
  it("agree: every scene it returns is a wrong firing, by sensors within their lags", () => {
    let gaps = 0;
    fc.assert(
      fc.property(cases, (one) => {
        const rule = prepared(one);
        const found = searchGap(rule, one.lags);
        if (found.scene === null) return;
        gaps += 1;
        expect(isPossible(found.scene.subjects, one.lags)).toBe(true);
        const played = play(whole(found.scene.subjects), one.when, one.rightWhen);
        expect(stateAt(played.condition, 0)).toBe(ON);
        expect(stateAt(played.condition, -1)).not.toBe(ON);
        expect(wrongAt(0, played, rule.tolerance.earlyMs)).toBe(true);
      }),
      { numRuns: 30 },
    );
    expect(gaps).toBeGreaterThan(5);
  }, 60_000);

  it("agree: where a random world holds a wrong firing, it finds a gap", () => {
    let gaps = 0;
    fc.assert(
      fc.property(cases, fc.nat(), (one, seed) => {
        const rule = prepared(one);
        const { found } = makeSearcher(gapQuestion(rule))(one.lags);
        for (const world of worldsFrom(seed, 60, one.lags)) {
          const played = play(world, one.when, one.rightWhen);
          const wrong = Array.from(rises(played.condition)).find((at) => at > min(-60) && at < min(150) && wrongAt(at, played, rule.tolerance.earlyMs));
          if (wrong === undefined) continue;
          gaps += 1;
          expect(found, JSON.stringify({ wrong, world })).toBe("gap");
          return;
        }
      }),
      { numRuns: 100 },
    );
    expect(gaps).toBeGreaterThan(5);
  }, 60_000);
});
