import type { Mutant } from "@stryker-mutator/api/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { drawSample } from "./sample-checker.js";

const mutantAt = (index: number, folder: string): Mutant => ({
  id: String(index),
  fileName: `${folder}/src/judge/judge.ts`,
  location: { start: { line: index, column: 0 }, end: { line: index, column: 5 } },
  mutatorName: "EqualityOperator",
  replacement: "a < b",
});
const mutants = (count: number, folder = "/one"): Mutant[] => Array.from({ length: count }, (_, i) => mutantAt(i, folder));

test("draws as many as asked, or all there are", () => {
  fc.assert(
    fc.property(fc.nat(60), fc.nat(80), fc.nat(), (count, size, seed) => {
      expect(drawSample(mutants(count), { size, seed }).size).toBe(Math.min(count, size));
    }),
  );
});

test("draws the same for the same seed wherever the project lies and in whatever order the mutants come; another seed draws others", () => {
  const ids = [...drawSample(mutants(100), { size: 20, seed: 1 })].toSorted();
  expect([...drawSample(mutants(100, "/another/place").toReversed(), { size: 20, seed: 1 })].toSorted()).toEqual(ids);
  expect([...drawSample(mutants(100), { size: 20, seed: 2 })].toSorted()).not.toEqual(ids);
});

test("any mutant is as likely as another", () => {
  const drawn = Array.from({ length: 2_000 }, (_, seed) => [...drawSample(mutants(10), { size: 3, seed })]).flat();
  // 600 of 2,000 draws each, give or take 20.5.
  for (let id = 0; id < 10; id += 1) expect(Math.abs(drawn.filter((one) => one === String(id)).length - 600)).toBeLessThan(90);
});
