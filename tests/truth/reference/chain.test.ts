import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bestPath, smooth, type Chain, type ChainLogs } from "../../../src/truth/reference/chain.js";

/** Every path of `count` two-valued states. */
function everyPath(count: number): number[][] {
  return Array.from({ length: 2 ** count }, (_, code) => Array.from({ length: count }, (_, k) => (code >> k) & 1));
}

/** The joint probability of one path and what is seen, by the words of the definition. */
function logJoint(path: readonly number[], { kindOf, moveOf }: Chain, logs: ChainLogs): number {
  return path.reduce((sum, state, k) => {
    const step = k === 0 ? Math.log(0.5) : path[k - 1] === state ? logs.stay[moveOf[k - 1]!]! : logs.change[moveOf[k - 1]!]!;
    return sum + step + logs.emission[2 * kindOf[k]! + state]!;
  }, 0);
}

const log = fc.double({ min: -6, max: 0, noNaN: true });
const KINDS = 4;
const MOVES = 3;
const ruled = fc.constantFrom<"neither" | 0 | 1>("neither", "neither", "neither", 0, 1);
const anyLogs: fc.Arbitrary<ChainLogs> = fc
  .record({ emission: fc.array(log, { minLength: 2 * KINDS, maxLength: 2 * KINDS }), out: fc.array(ruled, { minLength: KINDS, maxLength: KINDS }), stay: fc.array(log, { minLength: MOVES, maxLength: MOVES }), change: fc.array(log, { minLength: MOVES, maxLength: MOVES }) })
  .map(({ emission, out, stay, change }) => {
    const table = Float64Array.from(emission);
    out.forEach((state, kind) => {
      if (state !== "neither") table[2 * kind + state] = -Infinity;
    });
    return { emission: table, stay: Float64Array.from(stay), change: Float64Array.from(change) };
  });
const anyChain: fc.Arbitrary<Chain> = fc
  .array(fc.tuple(fc.nat(KINDS - 1), fc.nat(MOVES - 1)), { minLength: 1, maxLength: 10 })
  .map((list) => ({ kindOf: Int32Array.from(list, ([kind]) => kind), moveOf: Int32Array.from(list.slice(1), ([, move]) => move) }));

describe("a chain of up to ten segments, against all paths written out", () => {
  test("has the posteriors and the likelihood that summing over all of them gives", () => {
    fc.assert(
      fc.property(anyChain, anyLogs, (chain, logs) => {
        const paths = everyPath(chain.kindOf.length);
        const weights = paths.map((path) => Math.exp(logJoint(path, chain, logs)));
        const total = weights.reduce((a, b) => a + b, 0);
        const share = (fits: (path: number[]) => boolean): number => paths.reduce((sum, path, i) => sum + (fits(path) ? weights[i]! : 0), 0) / total;
        const { on, changed, logLikelihood } = smooth(chain, logs);
        expect(logLikelihood).toBeCloseTo(Math.log(total), 8);
        on.forEach((one, k) => expect(one).toBeCloseTo(share((path) => path[k] === 1), 9));
        changed.forEach((one, b) => expect(one).toBeCloseTo(share((path) => path[b] !== path[b + 1]), 9));
      }),
      { numRuns: 60 },
    );
  });

  test("has a best path that none of them beats", () => {
    fc.assert(
      fc.property(anyChain, anyLogs, (chain, logs) => {
        const { path, logProbability } = bestPath(chain, logs);
        expect(logProbability).toBeCloseTo(Math.max(...everyPath(chain.kindOf.length).map((one) => logJoint(one, chain, logs))), 9);
        expect(logJoint([...path], chain, logs)).toBeCloseTo(logProbability, 9);
      }),
      { numRuns: 60 },
    );
  });
});

test("a hundred thousand segments do not underflow", () => {
  const count = 100_000;
  const chain = { kindOf: Int32Array.from({ length: count }, (_, k) => k % 2), moveOf: new Int32Array(count - 1) };
  const logs = { emission: Float64Array.from([-300, -301, -302, -300]), stay: Float64Array.of(Math.log(0.5)), change: Float64Array.of(Math.log(0.5)) };
  const { on, logLikelihood } = smooth(chain, logs);
  expect(Number.isFinite(logLikelihood)).toBe(true);
  expect(on[50_000]).toBeCloseTo(1 / (1 + Math.E), 9);
  expect(on[50_001]).toBeCloseTo(1 / (1 + Math.exp(-2)), 9);
});
