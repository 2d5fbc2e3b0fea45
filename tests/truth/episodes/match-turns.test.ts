import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { likelyInstant, matchInstants } from "../../../src/truth/episodes/match-turns.js";

describe("matchInstants", () => {
  test("pairs each turn with the one that answers it", () => {
    const { ofReference, ofSignal } = matchInstants([100, 500], [103, 498], 10);
    expect([...ofReference]).toEqual([0, 1]);
    expect([...ofSignal]).toEqual([0, 1]);
  });

  test("leaves a turn without an answer unmatched, and an answer without a question too", () => {
    const { ofReference, ofSignal } = matchInstants([100, 500], [300, 505], 10);
    expect([...ofReference]).toEqual([-1, 1]);
    expect([...ofSignal]).toEqual([-1, 1]);
  });

  test("takes the repeat of a turn that was taken back, when that is nearer", () => {
    expect([...matchInstants([100], [92, 101], 10).ofReference]).toEqual([1]);
  });

  test("would rather pair both than pair one well", () => {
    // 8 answers 10 best, but then 18 would be left: 10–3 and 18–8 leaves nobody out.
    expect([...matchInstants([10, 18], [3, 8], 10).ofReference]).toEqual([0, 1]);
  });

  test("the edge of the window still counts", () => {
    expect([...matchInstants([100], [110], 10).ofReference]).toEqual([0]);
    expect([...matchInstants([100], [110.5], 10).ofReference]).toEqual([-1]);
  });

  test("does as well as trying every matching, in pairs and in total distance", () => {
    const instants = fc.uniqueArray(fc.integer({ min: 0, max: 60 }), { maxLength: 6 }).map((list) => list.sort((a, b) => a - b));
    fc.assert(
      fc.property(instants, instants, fc.integer({ min: 0, max: 15 }), (reference, signal, windowMs) => {
        const { ofReference, ofSignal } = matchInstants(reference, signal, windowMs);
        const pairs = [...ofReference].flatMap((column, row) => (column === -1 ? [] : [{ row, column }]));
        for (const { row, column } of pairs) {
          expect(ofSignal[column]).toBe(row);
          expect(Math.abs(reference[row]! - signal[column]!)).toBeLessThanOrEqual(windowMs);
        }
        expect([...ofSignal].filter((row) => row >= 0)).toHaveLength(pairs.length);
        expect(pairs.map((pair) => pair.column)).toEqual(pairs.map((pair) => pair.column).sort((a, b) => a - b));
        const distance = pairs.reduce((sum, { row, column }) => sum + Math.abs(reference[row]! - signal[column]!), 0);
        expect({ pairs: pairs.length, distance }).toEqual(bestByTrying(reference, signal, windowMs));
      }),
      { numRuns: 1500 },
    );
  });
});

/** Every one-to-one matching, crossing ones too: first reference instant left alone, or with each answer in turn. */
function bestByTrying(reference: readonly number[], signal: readonly number[], windowMs: number): { pairs: number; distance: number } {
  const [first, ...rest] = reference;
  if (first === undefined) return { pairs: 0, distance: 0 };
  let best = bestByTrying(rest, signal, windowMs);
  signal.forEach((instant, i) => {
    const apart = Math.abs(first - instant);
    if (apart > windowMs) return;
    const others = bestByTrying(rest, signal.filter((_, j) => j !== i), windowMs);
    const tried = { pairs: others.pairs + 1, distance: others.distance + apart };
    if (tried.pairs > best.pairs || (tried.pairs === best.pairs && tried.distance < best.distance)) best = tried;
  });
  return best;
}

test("a turn inside a bridged gap most likely happened in its middle", () => {
  expect(likelyInstant({ earliest: 100, at: 160 })).toBe(130);
  expect(likelyInstant({ earliest: 160, at: 160 })).toBe(160);
});
