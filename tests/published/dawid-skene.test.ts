/**
 * Dawid & Skene (1979), "Maximum likelihood estimation of observer error-rates using the EM algorithm", Applied Statistics 28: 20-28.
 * The primary text was not seen.
 * - The data, 45 patients judged by five anaesthetists in four classes, the first of them three times: (S), twice and identical,
 *   in the R package rater (data/anesthesia.rda) and in Dallas Card's 2014 Python file.
 * - The prevalences .40 .42 .11 .07 as published: (M). Their further decimals, the error matrices, the log-likelihood and the
 *   likeliest classes: (R), recomputed in R 4.2.2 from the averaged start (equation 3.1). The published matrices were not seen.
 */
import { describe, expect, test } from "vitest";
import { fitLatentClasses } from "../../src/statistics/latent-class.js";
import type { LatentClassItem } from "../../src/statistics/latent-class.js";

const patients = `
111 1111  333 4334  112 2122  222 3121  222 3222  222 3322  112 2111  333 3433  222 2223
232 2223  444 4444  222 3343  111 1111  222 3212  121 1111  111 2111  111 1111  111 1111
222 2221  222 1322  222 2222  222 2221  222 3222  221 2222  111 1111  111 1111  232 2222
111 1111  111 1111  112 1121  111 1111  333 3233  111 1111  222 2222  222 3232  433 4343
221 2232  232 3233  333 3432  111 1111  111 1111  121 2111  232 2222  121 1111  222 2222`;

/** Each patient as `counts[observer][class]`. */
function items(): LatentClassItem[] {
  const words = patients.trim().split(/\s+/);
  return Array.from({ length: words.length / 2 }, (_, i) => {
    const said = [words[2 * i]!, ...Array.from(words[2 * i + 1]!)];
    return { counts: said.map((text) => [1, 2, 3, 4].map((c) => text.split(String(c)).length - 1)) };
  });
}

describe("Dawid and Skene's anaesthetists", () => {
  const fit = fitLatentClasses(items(), { classes: 4, maximumIterations: 1000, tolerance: 1e-13 });

  test("are 45 patients with seven readings each", () => {
    expect(items()).toHaveLength(45);
    for (const { counts } of items()) expect(counts.flat().reduce((a, b) => a + b, 0)).toBe(7);
  });

  test("converge, in 33 iterations (R)", () => {
    expect(fit.converged).toBe(true);
    expect(fit.iterations).toBe(33);
  });

  test("have the prevalences .40 .42 .11 .07 (M), to four decimals (R)", () => {
    expect(fit.prevalence[0]!.map((one) => one.toFixed(2))).toEqual(["0.40", "0.42", "0.11", "0.07"]);
    [0.399969, 0.421576, 0.111788, 0.066667].forEach((share, c) => expect(fit.prevalence[0]![c]).toBeCloseTo(share, 5));
  });

  test("have the log-likelihood −190.730997 (R)", () => {
    expect(fit.logLikelihood).toBeCloseTo(-190.730997, 5);
  });

  test.each([
    [[0.9074, 0.0926, 0, 0], [0.0703, 0.8766, 0.0531, 0], [0, 0.3388, 0.6612, 0], [0, 0, 0.5556, 0.4444]],
    [[0.8333, 0.1667, 0, 0], [0.0528, 0.6326, 0.3147, 0], [0, 0, 1, 0], [0, 0, 0, 1]],
    [[1, 0, 0, 0], [0.1055, 0.7891, 0.1054, 0], [0, 0.4036, 0.1988, 0.3976], [0, 0, 0.6667, 0.3333]],
    [[0.9445, 0.0555, 0, 0], [0.0527, 0.8434, 0.1038, 0], [0, 0, 0.8012, 0.1988], [0, 0, 0.3333, 0.6667]],
    [[1, 0, 0, 0], [0.1582, 0.7352, 0.1065, 0], [0, 0.2091, 0.7909, 0], [0, 0, 0.3333, 0.6667]],
  ].map((matrix, observer) => ({ observer, matrix })))("have the error matrix of observer $observer to four decimals (R)", ({ observer, matrix }) => {
    // Rounded to four decimals on the sheet: half a unit of the last one, and rows that were made to add up.
    matrix.forEach((row, t) => row.forEach((share, c) => expect(Math.abs(fit.said[observer]![t]![c]! - share)).toBeLessThan(1.01e-4)));
  });

  test("have the likeliest classes (R), all but patients 35 and 38 beyond .995", () => {
    const likeliest = fit.membership.map((row) => row.indexOf(Math.max(...row)) + 1);
    expect(likeliest.join(" ")).toBe("1 4 2 2 2 2 1 3 2 2 4 3 1 2 1 1 1 1 2 2 2 2 2 2 1 1 2 1 1 1 1 3 1 2 2 4 2 3 3 1 1 1 2 1 2");
    expect(fit.membership.flatMap((row, i) => (Math.max(...row) < 0.995 ? [i + 1] : []))).toEqual([35, 38]);
    expect(fit.membership[34]!.map((one) => one.toFixed(4))).toEqual(["0.0000", "0.9482", "0.0518", "0.0000"]);
    expect([fit.membership[37]![1]!.toFixed(4), fit.membership[37]![2]!.toFixed(4)]).toEqual(["0.0213", "0.9787"]);
  });
});
