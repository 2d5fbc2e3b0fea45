/**
 * The chart for individual values with moving ranges.
 * - The example of the NIST/SEMATECH handbook, 6.3.2.2 (ten batches): data, centre 50.81 and limits 45.8159, 55.8041
 *   are (M), from memory, page not seen. That limits follow from data to the last digit speaks for both.
 * - Mean number of values until a false alarm, limits and runs of eight together: 152.73, Champ & Woodall (1987), (M), and
 *   (R) from the equations below; limits alone 370.4 (R).
 */
import { expect, test } from "vitest";
import { individualsChart } from "../../src/statistics/control-chart.js";

const batches = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

test("centre and limits of the handbook's example (M)", () => {
  const chart = individualsChart(batches)!;
  expect(chart.centre.toFixed(2)).toBe("50.81");
  expect([chart.low.toFixed(4), chart.high.toFixed(4)]).toEqual(["45.8159", "55.8041"]);
  expect(chart).toMatchObject({ outside: [], runs: [] });
});

test("values beyond either limit alarm, and one value has no chart", () => {
  const steady = Array.from({ length: 30 }, (_, i) => (i % 2 === 0 ? 0 : 1));
  expect(individualsChart([...steady, 9, -9, ...steady])!.outside).toEqual([30, 31]);
  expect(individualsChart([5])).toBeNull();
  // The range of two values is 2: limits 3 · 2 / 1.128 around the centre.
  const two = individualsChart([4, 6])!;
  expect([two.low, two.high].map((limit) => limit.toFixed(6))).toEqual([5 - 6 / 1.128, 5 + 6 / 1.128].map((limit) => limit.toFixed(6)));
});

test("limits and runs of eight alarm by mistake once in 152.73 values (M, R)", () => {
  // On one side and within the limits, normal: half of 0.9973002.
  const within = 0.997_300_204 / 2;
  // Expected values still to come from a run of k on one side, backwards from k = 8, each as a multiple of that from k = 1 plus a rest.
  let [multiple, rest] = [0, 0];
  for (let length = 7; length >= 1; length -= 1) [multiple, rest] = [within + within * multiple, 1 + within * rest];
  const fromOne = rest / (1 - multiple);
  expect((1 + 2 * within * fromOne).toFixed(2)).toBe("152.73");
  expect((1 / (1 - 2 * within)).toFixed(1)).toBe("370.4");
});

test("the run rule alarms at the eighth value on one side, not at the seventh", () => {
  const values = [0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1];
  expect(individualsChart(values)!.runs).toEqual([14]);
  expect(individualsChart(values.map((value) => -value))!.runs).toEqual([14]);
});

test("a run goes on alarming, and a value at the centre ends it", () => {
  const [low, high] = [Array<number>(9).fill(-1), Array<number>(9).fill(1)];
  expect(individualsChart([...low, ...high])!.runs).toEqual([7, 8, 16, 17]);
  expect(individualsChart([...low, 0, ...high])!.runs).toEqual([7, 8, 17, 18]);
  expect(individualsChart([-1, -1, -1, -1, 0, -1, -1, -1, -1, ...Array<number>(8).fill(1)])!.runs).toEqual([16]);
});
