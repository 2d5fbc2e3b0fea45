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

  test("say so when they were stopped too early, and need an item", () => {
    const items = [{ counts: [no, yes] }, { counts: [yes, yes] }, { counts: [yes, yes] }, { counts: [no, no] }];
    expect(fitLatentClasses(items, { classes: 2, maximumIterations: 1, tolerance: 0 })).toMatchObject({ converged: false, iterations: 1 });
    expect(() => fitLatentClasses([], { classes: 2, maximumIterations: 1, tolerance: 0 })).toThrow("at least one item");
  });
});
