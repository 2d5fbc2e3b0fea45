import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { errorCorrelations, groupsOf, voteWeights } from "../../../src/truth/reference/causes.js";
import { learn, type LearningSetup, type Rates } from "../../../src/truth/reference/learn.js";
import { observe } from "../../../src/truth/reference/observations.js";
import { causeGroups } from "../../../src/site/cause-groups.js";

type Votes = readonly (readonly number[])[];

/** Votes by witness, as a layout would hold them; the diary's word and movements by boundary if given. */
function setupOf(votes: Votes, parts: { written?: readonly number[]; moved?: readonly number[]; weights?: readonly number[] } = {}): LearningSetup {
  const segments = votes[0]!.length;
  const boundaries = Array.from({ length: segments - 1 }, (_, b) => ({ instant: b + 1, to: (b % 2) as 0 | 1, members: [] }));
  const layout = { boundaries, votes: votes.map((one) => Uint8Array.from(one)), written: Uint8Array.from(parts.written ?? new Array<number>(segments).fill(2)) };
  const nearby = parts.moved === undefined ? [] : [{ class: "door" as const, moved: Uint8Array.from(parts.moved), baseShare: 0.1 }];
  const observations = observe(layout, nearby);
  return {
    observations,
    weights: observations.kinds.map(() => [...(parts.weights ?? votes.map(() => 1))]),
    stayPriors: nearby.map(() => ({ alpha: 3, beta: 19 })),
    learnErrors: true,
  };
}

const startOf = (votes: Votes, classes: number): Rates => ({
  saysOnGivenOff: votes.map(() => 0.05),
  saysOffGivenOn: votes.map(() => 0.05),
  changes: 0.5,
  movedGivenChange: new Array<number>(classes).fill(0.5),
  movedGivenStay: new Array<number>(classes).fill(0.1),
});

const alternating = (count: number): number[] => Array.from({ length: count }, (_, k) => k % 2);
const wrongAt = (truth: readonly number[], places: readonly number[]): number[] => truth.map((state, k) => (places.includes(k) ? 1 - state : state));

describe("learning", () => {
  const truth = alternating(80);
  const votes = [wrongAt(truth, [3, 11, 20, 31, 40, 51, 60, 71]), wrongAt(truth, [10]), wrongAt(truth, [25])];
  const learnt = learn(setupOf(votes), startOf(votes, 0));

  test("finds how often each witness errs among three, prior included", () => {
    expect(learnt.converged).toBe(true);
    // Said off while on at 3, 11, 31, 51, 71 of 40; said on while off at 20, 40, 60 of 40; with a quarter of 5 on top.
    expect(learnt.rates.saysOffGivenOn[0]).toBeCloseTo(5.25 / 45, 2);
    expect(learnt.rates.saysOnGivenOff[0]).toBeCloseTo(3.25 / 45, 2);
    expect(learnt.rates.saysOnGivenOff[1]).toBeCloseTo(1.25 / 45, 2);
    expect([...learnt.smoothed.on].map(Math.round)).toEqual(truth);
  });

  test("of a subject that never changed, every class nearby keeps the shares of its priors", () => {
    const still = [[1], [1]];
    const { rates, counts } = learn(setupOf(still, { moved: [] }), startOf(still, 1));
    expect(counts.movedGivenChange).toEqual([{ hits: 0, trials: 0 }]);
    expect(rates.movedGivenChange[0]).toBeCloseTo(0.5);
    expect(rates.movedGivenStay[0]).toBeCloseTo(2 / 20);
  });

  test("gives the same again", () => {
    expect(learn(setupOf(votes), startOf(votes, 0))).toEqual(learnt);
  });

  test("does not choose the mirror, in which all witnesses always lie, even from there", () => {
    const lying: Rates = { ...startOf(votes, 0), saysOnGivenOff: [0.95, 0.95, 0.95], saysOffGivenOn: [0.95, 0.95, 0.95] };
    const { rates } = learn(setupOf(votes), lying);
    for (const share of [...rates.saysOnGivenOff, ...rates.saysOffGivenOn]) expect(share).toBeLessThanOrEqual(0.45);
  });

  test("ends at the same shares of changes and movements wherever it starts", () => {
    // Two witnesses that often differ, so that movements must tell: near 32 of 39 changes, and near 8 of 40 other
    // boundaries.
    const halting = truth.map((_, k) => (Math.floor(k / 2) % 2 === 0 ? 0 : 1));
    const every = (step: number): number[] => truth.map((_, k) => k).filter((k) => k % step === 3);
    const flapping = [wrongAt(halting, every(5)), wrongAt(halting, every(7))];
    const moved = halting.slice(1).map((state, b) => (state === halting[b] ? (b % 10 === 0 ? 1 : 0) : b % 4 === 1 ? 1 : b % 3 === 0 ? 0 : 1));
    const setup = { ...setupOf(flapping, { moved }), learnErrors: false };
    const from = (changes: number, change: number, stay: number) =>
      learn(setup, { ...startOf(flapping, 1), changes, movedGivenChange: [change], movedGivenStay: [stay] });
    const usual = from(0.5, 0.5, 0.1);
    const shares = fc.double({ min: 0.02, max: 0.98, noNaN: true });
    fc.assert(
      fc.property(shares, shares, shares, (changes, change, stay) => {
        const { rates, objectives } = from(changes, change, stay);
        expect(objectives.at(-1)).toBeCloseTo(usual.objectives.at(-1)!, 2);
        expect(rates.changes).toBeCloseTo(usual.rates.changes, 1);
        expect(rates.movedGivenChange[0]).toBeCloseTo(usual.rates.movedGivenChange[0]!, 1);
        expect(rates.movedGivenStay[0]).toBeCloseTo(usual.rates.movedGivenStay[0]!, 1);
      }),
      { numRuns: 60 },
    );
  });

  test("takes the diary's word against every witness", () => {
    const written = new Array<number>(80).fill(2);
    written[6] = 1;
    expect(learn(setupOf(votes, { written }), startOf(votes, 0)).smoothed.on[6]).toBe(1);
  });

  test("does not turn one flap that two others deny into a visit, however often the subject truly changes", () => {
    const flapping = [...truth.slice(0, 40), 0, 1, 0, ...truth.slice(41)];
    const steady = flapping.map((state, k) => (k === 41 ? 0 : state));
    const { smoothed } = learn(setupOf([flapping, steady, steady]), startOf([flapping, steady, steady], 0));
    expect(smoothed.on[41]).toBeLessThan(0.05);
  });

  test("by property: never lowers the penalised log-likelihood, and keeps to its bounds", () => {
    const anyRow = (length: number) => fc.array(fc.constantFrom(0, 1, 2), { minLength: length, maxLength: length });
    const anyCase = fc.tuple(fc.integer({ min: 2, max: 25 }), fc.integer({ min: 1, max: 4 })).chain(([segments, witnesses]) =>
      fc.record({
        votes: fc.array(anyRow(segments), { minLength: witnesses, maxLength: witnesses }),
        moved: anyRow(segments - 1),
        written: fc.array(fc.constantFrom(2, 2, 2, 0, 1), { minLength: segments, maxLength: segments }),
        weights: fc.array(fc.double({ min: 0.3, max: 1, noNaN: true }), { minLength: witnesses, maxLength: witnesses }),
        learnErrors: fc.boolean(),
      }),
    );
    fc.assert(
      fc.property(anyCase, ({ votes, moved, written, weights, learnErrors }) => {
        const { objectives, rates } = learn({ ...setupOf(votes, { moved, written, weights }), learnErrors }, startOf(votes, 1));
        for (let i = 1; i < objectives.length; i += 1) expect(objectives[i]!).toBeGreaterThanOrEqual(objectives[i - 1]! - 1e-9);
        expect(rates.changes).toBeLessThanOrEqual(0.5);
        expect(rates.movedGivenChange[0]!).toBeGreaterThanOrEqual(rates.movedGivenStay[0]!);
        for (const share of [...rates.saysOnGivenOff, ...rates.saysOffGivenOn]) expect(share).toBeLessThanOrEqual(0.45);
        if (!learnErrors) expect(rates.saysOnGivenOff).toEqual(votes.map(() => 0.05));
      }),
      { numRuns: 150 },
    );
  });
});

describe("shared causes", () => {
  const witness = (id: string, ...shares: string[]) => ({ id, shares });
  const grouped = (all: readonly ReturnType<typeof witness>[], connecting: readonly ReturnType<typeof witness>[] = []) => {
    const groups = causeGroups([...all, ...connecting]);
    return groupsOf(all.map((one) => ({ ...one, group: groups.get(one.id)!, twins: [] })));
  };

  test("make groups of what hangs together, by whatever chain of causes", () => {
    expect(grouped([witness("a", "x"), witness("b"), witness("c", "x", "y"), witness("d", "y")])).toEqual([
      { members: [0, 2, 3], causes: ["x", "y"], asOne: false },
      { members: [1], causes: [], asOne: false },
    ]);
  });

  test("make a group of two that only a signal of another subject connects, and name what both hang on", () => {
    expect(grouped([witness("a", "x"), witness("b", "y")], [witness("far", "y", "x")])).toEqual([{ members: [0, 1], causes: ["x", "y"], asOne: false }]);
  });

  test("weigh votes down by how many speak: 1 / (1 + (g − 1) ρ)", () => {
    const { observations } = setupOf([[1, 1, 2], [1, 2, 2], [1, 1, 1]]);
    const groups = grouped([witness("a", "x"), witness("b", "x"), witness("c")]);
    const weights = voteWeights(observations, groups, [0.5, 0.5]);
    expect(weights.map((row) => row.map((one) => Number(one.toFixed(4))))).toEqual([[0.6667, 0.6667, 1], [1, 1, 1], [1, 1, 1]]);
  });

  const truth = alternating(60);
  const groups = grouped([witness("a", "x"), witness("b", "x")]);
  const certain = Float64Array.from(truth);
  const correlationOf = (a: readonly number[], b: readonly number[]) => errorCorrelations(setupOf([wrongAt(truth, a), wrongAt(truth, b)]).observations, groups, certain)[0]!;

  test("correlate errors that come together, drawn to the prior of one half by five segments", () => {
    const places = [2, 7, 15, 24, 33, 38, 41, 50, 52, 59];
    expect(correlationOf(places, places)).toEqual({ correlation: (10 * 1 + 5 * 0.5) / 15, errorSegments: 10 });
  });

  test("do not reward errors that avoid each other, and say nothing without errors", () => {
    expect(correlationOf([1, 5, 9], [2, 6, 10])).toEqual({ correlation: (5 * 0.5) / 11, errorSegments: 6 });
    expect(correlationOf([], [])).toEqual({ correlation: 0.5, errorSegments: 0 });
  });
});
