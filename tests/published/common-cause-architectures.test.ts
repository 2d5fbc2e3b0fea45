/**
 * 1oo1, 1oo2, 2oo2 and 2oo3 with common cause: the simplified formulas of IEC 61508-6 annex B (formulas from memory (M), text
 * not seen), average probability of failure on demand; figures recomputed (R). The table they correspond to (B.2: proof test
 * every six months) is from memory (M); its printed entries agree to two digits (M).
 * The structure (which channels must fail, and that the shared cause takes all) comes from our own cut sets of a quorum, the
 * split of the rates from our own beta-factor model; only the dwell times are the standard's.
 */
import { describe, expect, test } from "vitest";
import { betaSplit } from "../../src/judge/fooled/fault-rates.js";
import { silencingSets } from "../../src/judge/fooled/lying-sets.js";
import { structureOf } from "../judge/small-site.js";
import type { Expression } from "../../src/site/expression.js";

const REPAIR_HOURS = 8;

interface Channel {
  readonly perHour: number;
  readonly coverage: number;
  readonly beta: number;
  readonly testHours: number;
}

/** The chance that fewer than `k` of `n` like channels act. */
function failureOnDemand(k: number, n: number, { perHour, coverage, beta, testHours }: Channel): number {
  const channels = Array.from({ length: n }, (_, i): Expression => ({ op: "is", ref: `channel-${i}`, state: 1, heldMs: null, recentlyMs: null }));
  const { sets } = silencingSets(structureOf({ op: "atLeast", count: k, of: channels }, () => (n === 1 ? [] : ["common"])));
  const independent = sets.filter((set) => set.every(({ kind }) => kind === "signal"));
  const size = independent[0]!.length;
  expect(sets.length - independent.length).toBe(n === 1 ? 0 : 1);

  const detected = betaSplit(coverage * perHour, beta / 2);
  const undetected = betaSplit((1 - coverage) * perHour, beta);
  const dwell = (share: number): number => (1 - coverage) * (testHours * share + REPAIR_HOURS) + coverage * REPAIR_HOURS;
  // One channel alone is enough: nothing to share, its whole rate counts.
  if (size === 1) return independent.length * perHour * dwell(1 / 2);
  expect(size).toBe(2);
  // Either of the two may be the first to fail.
  const orders = 2 * independent.length;
  const common = detected.common * REPAIR_HOURS + undetected.common * (testHours / 2 + REPAIR_HOURS);
  return orders * (detected.own + undetected.own) ** 2 * dwell(1 / 2) * dwell(1 / 3) + common;
}

const SIX_MONTHS = 4380;
const YEAR = 8760;

describe("average probability of failure on demand", () => {
  test.each([
    [0.5e-7, 0, 0.02, SIX_MONTHS, 1.099e-4, 2.213e-6, 2.198e-4, 2.244e-6],
    [0.5e-7, 0, 0.1, SIX_MONTHS, 1.099e-4, 1.1e-5, 2.198e-4, 1.103e-5],
    [0.5e-7, 0, 0.2, SIX_MONTHS, 1.099e-4, 2.199e-5, 2.198e-4, 2.201e-5],
    [0.5e-6, 0.6, 0.1, SIX_MONTHS, 4.42e-4, 4.431e-5, 8.84e-4, 4.476e-5],
    [2.5e-6, 0, 0.1, SIX_MONTHS, 5.495e-3, 5.822e-4, 1.099e-2, 6.475e-4],
    [2.5e-6, 0.9, 0.02, SIX_MONTHS, 5.675e-4, 1.16e-5, 1.135e-3, 1.245e-5],
    [0.5e-6, 0, 0.1, YEAR, 2.194e-3, 2.246e-4, 4.388e-3, 2.35e-4],
    [2.5e-5, 0, 0.1, YEAR, 0.1097, 2.398e-2, 0.2194, 5e-2],
  ])("rate %f/h, coverage %f, beta %f, tested every %f h", (perHour, coverage, beta, testHours, ...published) => {
    const channel = { perHour, coverage, beta, testHours };
    const ours = [failureOnDemand(1, 1, channel), failureOnDemand(1, 2, channel), failureOnDemand(2, 2, channel), failureOnDemand(2, 3, channel)];
    // Figures stand there to four digits.
    ours.forEach((one, i) => expect(Math.abs(one / published[i]! - 1)).toBeLessThan(5.1e-4));
  });

  test("printed entries of the first block, to two digits: 1.1E-04, 2.2E-06, 1.1E-05, 2.2E-05, 2.2E-04 (M)", () => {
    const block = (k: number, n: number, beta: number): string => failureOnDemand(k, n, { perHour: 0.5e-7, coverage: 0, beta, testHours: SIX_MONTHS }).toExponential(1);
    expect([block(1, 1, 0.02), block(1, 2, 0.02), block(1, 2, 0.1), block(1, 2, 0.2), block(2, 2, 0.02)]).toEqual(["1.1e-4", "2.2e-6", "1.1e-5", "2.2e-5", "2.2e-4"]);
  });
});
