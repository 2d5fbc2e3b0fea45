import { describe, expect, test } from "vitest";
import { fitLatentClasses } from "../../src/statistics/latent-class.js";

const yes = [0, 1];
const no = [1, 0];

describe("latent classes", () => {
  test("recover the rates that made the counts, when three observers leave no error of chance", () => {
    const share = 0.3;
    const says = [[0.1, 0.8], [0.05, 0.9], [0.2, 0.95]];
    const items = Array.from({ length: 8 }, (_, code) => {
      const said = says.map((_, o) => (code >> o) & 1);
      const given = (truth: number): number => said.reduce((product, one, o) => product * (one === 1 ? says[o]![truth]! : 1 - says[o]![truth]!), 1);
      return { counts: said.map((one) => (one === 1 ? yes : no)), multiplicity: 1e6 * (share * given(1) + (1 - share) * given(0)) };
    });
    const fit = fitLatentClasses(items, { classes: 2, maximumIterations: 5_000, tolerance: 1e-13 });
    expect(fit.prevalence[0]![1]).toBeCloseTo(share, 6);
    says.forEach(([ifOff, ifOn], o) => {
      expect(fit.said[o]![0]![1]).toBeCloseTo(ifOff!, 6);
      expect(fit.said[o]![1]![1]).toBeCloseTo(ifOn!, 6);
    });
  });

  test("leave an item nobody judged as likely as any, and an observer who judges nothing without a view", () => {
    const items = [{ counts: [no, [0, 0]] }, { counts: [yes, [0, 0]] }, { counts: [[0, 0], [0, 0]] }];
    const fit = fitLatentClasses(items, { classes: 2, maximumIterations: 50, tolerance: 1e-12 });
    expect(fit.membership[2]![0]).toBeCloseTo(0.5, 12);
    expect(fit.said[1]).toEqual([[0.5, 0.5], [0.5, 0.5]]);
  });

  test("count an item of multiplicity three as three items, in the likelihood too", () => {
    const options = { classes: 2, maximumIterations: 40, tolerance: 0 };
    const [a, b, c] = [{ counts: [no, yes, yes] }, { counts: [yes, yes, yes] }, { counts: [no, no, yes] }];
    const thrice = fitLatentClasses([{ ...a, multiplicity: 3 }, b, c], options);
    const each = fitLatentClasses([a, a, a, b, c], options);
    expect(thrice.logLikelihood).toBeCloseTo(each.logLikelihood, 9);
    expect(thrice.prevalence[0]![1]).toBeCloseTo(each.prevalence[0]![1]!, 9);
    expect(thrice.said[0]![1]![1]).toBeCloseTo(each.said[0]![1]![1]!, 9);
  });

  test("lean on the pseudo-counts: one of each for an observer who said nothing of the class makes it even", () => {
    const options = { classes: 2, maximumIterations: 1, tolerance: 0 };
    // One item that both observers call on: class off was never seen, class on once.
    const fit = fitLatentClasses([{ counts: [yes, yes] }], { ...options, pseudoCounts: (observer, trueClass, said) => (observer === 0 && trueClass === 1 ? 1 + 2 * said : 1) });
    expect(fit.said).toEqual([[[0.5, 0.5], [0.2, 0.8]], [[0.5, 0.5], [1 / 3, 2 / 3]]]);
    expect(fit.prevalence).toEqual([[0, 1]]);
  });

  test("give a population without items every class alike", () => {
    const fit = fitLatentClasses([{ counts: [yes, yes], population: 1 }], { classes: 2, populations: 2, maximumIterations: 1, tolerance: 0 });
    expect(fit.prevalence).toEqual([[0.5, 0.5], [0, 1]]);
  });

  test("stop as soon as no probability moves by more than the tolerance", () => {
    const items = [{ counts: [no, yes, yes] }, { counts: [yes, yes, yes] }, { counts: [yes, no, yes] }, { counts: [no, no, no] }, { counts: [no, no, yes] }];
    const one = fitLatentClasses(items, { classes: 2, maximumIterations: 99, tolerance: 1 });
    expect(one).toMatchObject({ converged: true, iterations: 1 });
    const fine = fitLatentClasses(items, { classes: 2, maximumIterations: 99_999, tolerance: 1e-9 });
    expect(fine.converged).toBe(true);
    expect(fine.iterations).toBeGreaterThan(1);
  });

  test("say so when they were stopped too early, and need an item", () => {
    const items = [{ counts: [no, yes] }, { counts: [yes, yes] }, { counts: [yes, yes] }, { counts: [no, no] }];
    expect(fitLatentClasses(items, { classes: 2, maximumIterations: 1, tolerance: 0 })).toMatchObject({ converged: false, iterations: 1 });
    expect(() => fitLatentClasses([], { classes: 2, maximumIterations: 1, tolerance: 0 })).toThrow("at least one item");
  });
});
