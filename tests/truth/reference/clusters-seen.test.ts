import { describe, expect, test } from "vitest";
import type { Changes } from "../../../src/truth/reference/changes.js";
import { clusterChanges } from "../../../src/truth/reference/clusters.js";

/** Changes told as `[minute, state]`, or `[minute, state, earliest]` where nobody saw the instant. */
function changes(...told: readonly (readonly [minute: number, to: 0 | 1, earliest?: number])[]): Changes {
  return {
    at: Float64Array.from(told, ([minute]) => minute),
    earliest: Float64Array.from(told, ([minute, , earliest]) => earliest ?? minute),
    to: Uint8Array.from(told, ([, to]) => to),
    seen: Uint8Array.from(told, ([, , earliest]) => (earliest === undefined ? 1 : 0)),
  };
}

/** Who is in each cluster, with a question mark where the instant was not seen. */
function clustered(...witnesses: readonly Changes[]): string[] {
  return clusterChanges(witnesses, 5).clusters.map(({ to, members }) => `${to === 1 ? "on" : "off"}: ${members.map(({ witness, at, seen }) => `${witness}@${at}${seen ? "" : "?"}`).join(" ")}`);
}

describe("a change whose instant nobody saw", () => {
  test("joins a change of another witness anywhere in its gap; a seen one so late does not", () => {
    expect(clustered(changes([10, 1]), changes([60, 1, 5]))).toEqual(["on: 0@10 1@60?"]);
    expect(clustered(changes([10, 1]), changes([60, 1]))).toEqual(["on: 0@10", "on: 1@60"]);
  });

  test("joins no change that lies further before its gap than the window", () => {
    expect(clustered(changes([10, 1]), changes([60, 1, 16]))).toEqual(["on: 0@10", "on: 1@60?"]);
    expect(clustered(changes([10, 1]), changes([60, 1, 15]))).toEqual(["on: 0@10 1@60?"]);
  });

  test("joins across a change the other way too: it may have happened before that; a seen one would be another visit", () => {
    expect(clustered(changes([10, 1], [12, 0]), changes([14, 1, 5]))).toEqual(["on: 0@10 1@14?", "off: 0@12"]);
    expect(clustered(changes([10, 1], [12, 0]), changes([14, 1]))).toEqual(["on: 0@10", "off: 0@12", "on: 1@14"]);
  });

  test("takes the latest of several that it could belong to", () => {
    expect(clustered(changes([10, 1], [30, 0], [40, 1]), changes([60, 1, 5]))).toEqual(["on: 0@10", "off: 0@30", "on: 0@40 1@60?"]);
  });
});
