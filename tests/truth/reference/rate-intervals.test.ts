import { describe, expect, test } from "vitest";
import { betaQuantile } from "../../../src/statistics/distributions.js";
import { scoreCovariance } from "../../../src/statistics/score-covariance.js";
import { modelInputs } from "../../../src/truth/reference/book.js";
import { smooth } from "../../../src/truth/reference/chain.js";
import { fitModel, type Model } from "../../../src/truth/reference/fit-model.js";
import { chainLogs, type Rates } from "../../../src/truth/reference/learn.js";
import { errorRateEstimates } from "../../../src/truth/reference/rate-intervals.js";
import { referenceModels } from "../../../src/truth/reference/models.js";
import { inMinutes, smallSite, wrote, type SmallSignal, type Steps } from "./small-witnesses.js";

const LENGTH = 2000;
const period = { from: 0, to: LENGTH * 60_000 };
/** Ten visits of an hour, two hours and more apart. */
const visits = Array.from({ length: 10 }, (_, i) => 100 + i * 190);
const seen = (which: readonly number[]): Steps => [[0, 0], ...which.flatMap((at): Steps => [[at, 1], [at + 60, 0]])];
const diary = [
  ...visits.map((at) => wrote("bay-1", 1, at, at + 60)),
  ...[-60, ...visits].map((at, i) => wrote("bay-1", 0, at + 60, visits[i] ?? LENGTH)),
];
const on = (steps: Steps): SmallSignal => ({ on: "bay-1", account: inMinutes(LENGTH, steps) });

function ratesOf(signals: Readonly<Record<string, SmallSignal>>, written = diary) {
  const { site, accounts } = smallSite(signals);
  return referenceModels(site, accounts, written, period)[0]!.witnesses;
}

describe("error rates that the diary alone shows", () => {
  test("have the exact interval of what was counted, and a value that leans on the prior", () => {
    const [mat] = ratesOf({ mat: on(seen(visits.filter((_, i) => i !== 4))) });
    // One of ten, and none of eleven: Clopper & Pearson (1934) at 95 %; none of n has the upper end 1 − 0.025^(1/n).
    expect(mat!.saysOffGivenOn.count).toBe(10);
    expect(mat!.saysOffGivenOn.low).toBeCloseTo(0.00253, 5);
    expect(mat!.saysOffGivenOn.high).toBeCloseTo(0.44502, 5);
    expect(mat!.saysOffGivenOn.value).toBeCloseTo(1.25 / 15, 12);
    expect(mat!.saysOnGivenOff).toMatchObject({ count: 11, low: 0, why: null, unit: "share" });
    expect(mat!.saysOnGivenOff.high).toBeCloseTo(1 - 0.025 ** (1 / 11), 10);
    expect(mat!.saysOnGivenOff.value).toBeCloseTo(0.25 / 16, 12);
  });

  test("stop at the highest share allowed, and say so", () => {
    const [mat] = ratesOf({ mat: on(seen(visits.filter((_, i) => i % 5 === 0))) });
    expect(mat!.saysOffGivenOn).toMatchObject({ value: 0.45, why: "at the highest share of errors allowed" });
    expect(mat!.saysOffGivenOn.high!).toBeGreaterThan(0.8);
    expect(mat!.used.saysOffGivenOn).toBeLessThanOrEqual(0.45);
  });

  test("are not given by a diary that knows too little", () => {
    const [mat] = ratesOf({ mat: on(seen(visits)) }, diary.filter(({ state, from }) => state === 0 || from < 800 * 60_000));
    expect(mat!.saysOnGivenOff).toEqual({ value: null, low: null, high: null, count: 0, unit: "share", why: "Who is right cannot be told: there is only one sensor." });
    expect(mat!.used).toEqual({ saysOnGivenOff: 0.05, saysOffGivenOn: 0.05 });
  });
});

describe("error rates that three witnesses show", () => {
  test("lie within their intervals, which are wider than if the truth were known", () => {
    const [one, other] = ratesOf({ mat: on(seen(visits.filter((_, i) => i !== 4 && i !== 7))), beam: on(seen(visits)), loop: on(seen(visits)) }, []);
    const { value, low, high, count } = one!.saysOffGivenOn;
    expect(count).toBeCloseTo(10, 0);
    expect(low!).toBeLessThan(value!);
    expect(high!).toBeGreaterThan(value!);
    // Two of ten, known: 0.025 to 0.556.
    expect(high! - low!).toBeGreaterThan(0.53);
    expect(other!.saysOffGivenOn.low).toBe(0);
    expect(other!.saysOffGivenOn.value!).toBeLessThan(value!);
  });

  test("are as wide as the likelihood's own curvature says, found by differences of the likelihood alone", () => {
    const { site, accounts } = smallSite({
      mat: on(seen(visits.filter((_, i) => i !== 4 && i !== 7))),
      beam: on(seen(visits.filter((_, i) => i !== 2))),
      loop: on([...seen(visits), [1950, 1], [1960, 0]]),
      door: { on: "door-1", account: inMinutes(LENGTH, visits.flatMap((at, i): Steps => (i < 8 ? [[at, 1], [at + 1, 0]] : []))) },
    });
    const model = fitModel(modelInputs(site, accounts, [], period)("bay-1", []));
    const { rates, counts } = model.learnt;
    const shares = [...rates.saysOnGivenOff, ...rates.saysOffGivenOn, rates.changes, ...rates.movedGivenChange, ...rates.movedGivenStay];
    expect(rates.movedGivenChange).toHaveLength(1);
    const covariance = scoreCovariance((at) => gradient((logits) => penalised(model, logits), at), shares.map((share) => Math.log(share / (1 - share))), 1e-2)!;
    const estimates = errorRateEstimates(model, 0.95);
    [...counts.saysOnGivenOff, ...counts.saysOffGivenOn].forEach(({ hits, trials }, place) => {
      const share = shares[place]!;
      // The prior is worth 5 segments on top of those seen.
      const worth = Math.min(1, 1 / (covariance[place]![place]! * (trials + 5) * share * (1 - share)));
      const { low, high } = place < 3 ? estimates[place]!.saysOnGivenOff : estimates[place - 3]!.saysOffGivenOn;
      expect(low!).toBeCloseTo(Math.min(share, betaQuantile(0.025, hits * worth, (trials - hits) * worth + 1)), 3);
      expect(high!).toBeCloseTo(betaQuantile(0.975, hits * worth + 1, (trials - hits) * worth), 3);
      expect(worth).toBeLessThan(0.999);
    });
  });
});

/** The log-likelihood of these shares (as logits: three witnesses, both errors; changes; movements) with their priors. */
function penalised({ setup }: Model, logits: readonly number[]): number {
  const shares = logits.map((one) => 1 / (1 + Math.exp(-one)));
  const rates: Rates = { saysOnGivenOff: shares.slice(0, 3), saysOffGivenOn: shares.slice(3, 6), changes: shares[6]!, movedGivenChange: [shares[7]!], movedGivenStay: [shares[8]!] };
  // Successes and failures seen beforehand, by share.
  const beforehand = shares.map((_, i): readonly [number, number] => (i < 6 ? [0.25, 4.75] : i < 8 ? [1, 1] : [setup.stayPriors[0]!.alpha - 1, setup.stayPriors[0]!.beta - 1]));
  const prior = shares.reduce((sum, share, i) => sum + beforehand[i]![0] * Math.log(share) + beforehand[i]![1] * Math.log(1 - share), 0);
  return smooth(setup.observations.chain, chainLogs(setup, rates)).logLikelihood + prior;
}

function gradient(of: (at: readonly number[]) => number, at: readonly number[]): number[] {
  const step = 1e-3;
  return at.map((_, i) => (of(at.map((one, j) => (i === j ? one + step : one))) - of(at.map((one, j) => (i === j ? one - step : one)))) / (2 * step));
}
