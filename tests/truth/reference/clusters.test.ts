import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changesOf, type Changes } from "../../../src/truth/reference/witness.js";
import { clusterChanges } from "../../../src/truth/reference/clusters.js";
import type { TruthState } from "../../../src/timeline/timeline.js";
import { MINUTE, accountOf, inMinutes, type Steps } from "./small-witnesses.js";

const changes = (steps: Steps, bridgeMinutes = 0) => changesOf(accountOf("s", inMinutes(600, steps)), bridgeMinutes * MINUTE);

/** Each cluster as direction and members, e.g. "on: 0@10 1@12". */
const told = (windowMinutes: number, ...witnesses: Steps[]): string[] =>
  clusterChanges(witnesses.map((steps) => changes(steps)), windowMinutes * MINUTE).clusters.map(
    ({ to, members }) => `${to === 1 ? "on" : "off"}: ${members.map((one) => `${one.witness}@${one.at / MINUTE}${one.seen ? "" : "?"}`).join(" ")}`,
  );

describe("changes", () => {
  test("include one across a dark stretch, as not seen", () => {
    expect(changes([[0, 0], [10, 2], [30, 1], [40, 2], [41, 0]], 5)).toEqual({
      at: Float64Array.of(30 * MINUTE, 41 * MINUTE),
      earliest: Float64Array.of(10 * MINUTE, 40 * MINUTE),
      to: Uint8Array.of(1, 0),
      seen: Uint8Array.of(0, 1),
    });
  });

  test("of a bouncing contact count as what they come to", () => {
    const second = 1 / 60;
    const at = (steps: Steps): number[][] => [...changes(steps).at].map((instant, i) => [instant / MINUTE, changes(steps).to[i]!]);
    expect(at([[0, 1], [10, 0], [10 + second, 1], [10 + 2 * second, 0], [20, 1]])).toEqual([[10, 0], [20, 1]]);
    expect(at([[0, 0], [10, 1], [10 + 2 * second, 0], [20, 1]])).toEqual([[20, 1]]);
    expect(at([[0, 0], [10, 1], [10 + 3 * second, 0]])).toEqual([[10, 1], [10 + 3 * second, 0]]);
  });

  test("are not seen across a restart, however short", () => {
    const account = accountOf("s", inMinutes(60, [[0, 0], [10, 2], [11, 1]]), [{ from: 10 * MINUTE, to: 11 * MINUTE }]);
    expect([...changesOf(account, 5 * MINUTE).seen]).toEqual([0]);
  });
});

describe("clusters", () => {
  test("put a lag of one meter with the change it lags behind", () => {
    expect(told(5, [[0, 0], [10, 1], [60, 0]], [[0, 0], [14, 1], [60, 0]])).toEqual(["on: 0@10 1@14", "off: 0@60 1@60"]);
  });

  test("stop at the window", () => {
    expect(told(5, [[0, 0], [10, 1]], [[0, 0], [16, 1]])).toEqual(["on: 0@10", "on: 1@16"]);
  });

  test("keep a short visit that one sees late apart into its two ends", () => {
    expect(told(5, [[0, 0], [10, 1], [11, 0]], [[0, 0], [12, 1], [13, 0]])).toEqual(["on: 0@10 1@12", "off: 0@11 1@13"]);
  });

  test("leave a flap before an arrival to the one that flapped", () => {
    expect(told(5, [[0, 0], [10, 1], [11, 0], [13, 1]], [[0, 0], [12, 1]])).toEqual(["on: 0@10", "off: 0@11", "on: 1@12 0@13"]);
  });

  test("take back what nobody saw to when others saw it", () => {
    expect(told(5, [[0, 0], [50, 1]], [[0, 0], [20, 2], [200, 1]])).toEqual(["on: 0@50 1@200?"]);
  });

  test("by property: every change is in one cluster of its direction, a witness at most once in each, in its own order", () => {
    const anySteps = fc.array(fc.tuple(fc.nat(599), fc.constantFrom<TruthState>(0, 1, 2)), { maxLength: 12 }).map((list) => list.toSorted((a, b) => a[0] - b[0]));
    fc.assert(
      fc.property(fc.array(anySteps, { minLength: 1, maxLength: 4 }), fc.nat(40), (witnesses, windowMinutes) => {
        const lists = witnesses.map((steps) => changes(steps, 3));
        const { clusters, clusterOf } = clusterChanges(lists, windowMinutes * MINUTE);
        lists.forEach((list, w) =>
          list.at.forEach((at, i) => {
            const cluster = clusters[clusterOf[w]![i]!]!;
            expect(cluster.to).toBe(list.to[i]);
            expect(cluster.members.filter((one) => one.witness === w)).toEqual([{ witness: w, at, earliest: list.earliest[i], seen: list.seen[i] === 1 }]);
            if (i > 0) expect(clusterOf[w]![i]!).toBeGreaterThan(clusterOf[w]![i - 1]!);
          }),
        );
        for (const { members } of clusters) {
          const seen = members.filter((one) => one.seen).map((one) => one.at);
          if (members.every((one) => one.seen)) expect(Math.max(...seen) - Math.min(...seen)).toBeLessThanOrEqual(windowMinutes * MINUTE);
        }
      }),
      { numRuns: 200 },
    );
  });
});

/** Changes told as `[minute, state]`, or `[minute, state, earliest]` where nobody saw the instant. */
function changesFrom(...told: readonly (readonly [minute: number, to: 0 | 1, earliest?: number])[]): Changes {
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
    expect(clustered(changesFrom([10, 1]), changesFrom([60, 1, 5]))).toEqual(["on: 0@10 1@60?"]);
    expect(clustered(changesFrom([10, 1]), changesFrom([60, 1]))).toEqual(["on: 0@10", "on: 1@60"]);
  });

  test("joins no change that lies further before its gap than the window", () => {
    expect(clustered(changesFrom([10, 1]), changesFrom([60, 1, 16]))).toEqual(["on: 0@10", "on: 1@60?"]);
    expect(clustered(changesFrom([10, 1]), changesFrom([60, 1, 15]))).toEqual(["on: 0@10 1@60?"]);
  });

  test("joins across a change the other way too: it may have happened before that; a seen one would be another visit", () => {
    expect(clustered(changesFrom([10, 1], [12, 0]), changesFrom([14, 1, 5]))).toEqual(["on: 0@10 1@14?", "off: 0@12"]);
    expect(clustered(changesFrom([10, 1], [12, 0]), changesFrom([14, 1]))).toEqual(["on: 0@10", "off: 0@12", "on: 1@14"]);
  });

  test("takes the latest of several that it could belong to", () => {
    expect(clustered(changesFrom([10, 1], [30, 0], [40, 1]), changesFrom([60, 1, 5]))).toEqual(["on: 0@10", "off: 0@30", "on: 0@40 1@60?"]);
  });
});
