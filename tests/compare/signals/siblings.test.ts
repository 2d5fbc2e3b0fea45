import { describe, expect, test } from "vitest";
import { siblingsOf } from "../../../src/compare/signals/siblings.js";
import type { Sibling } from "../../../src/compare/signals/score.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { accountOf, accountsOf, minutes, signal } from "../../truth/episodes/small-site.js";

const visits = minutes(1000, [[0, 0], [100, 1], [200, 0], [400, 1], [500, 0], [700, 1], [900, 0]]);
const laggingAMinute = minutes(1000, [[0, 0], [101, 1], [201, 0], [401, 1], [501, 0], [701, 1], [901, 0]]);

/** Two signals of one bay beside each other. */
function sideBySide(first: Timeline, second: Timeline): Sibling {
  const accounts = accountsOf(accountOf("a", first), accountOf("b", second));
  return siblingsOf(signal("a", "bay-1"), [signal("b", "bay-1")], accounts, 0.95)[0]!;
}

describe("siblings", () => {
  test("a lag of a minute hardly lowers kappa: time gives the value, stretches the certainty", () => {
    const { agreement, kappa } = sideBySide(visits, laggingAMinute);
    expect(agreement.value).toBeCloseTo(0.994);
    expect(kappa.value).toBeGreaterThan(0.98);
    expect(agreement.count).toBe(7);
    expect(kappa.count).toBeCloseTo(7);
  });
  test("look the same from either side", () => {
    const lazy = minutes(1000, [[0, 0], [700, 1]]);
    expect(sideBySide(visits, lazy)).toEqual(sideBySide(lazy, visits));
    expect(sideBySide(visits, lazy).agreement.count).toBe(2);
  });
  test("name the shared causes, and say so when the two never met", () => {
    const [one, two] = [signal("a", "bay-1", ["board-a", "hub"]), signal("b", "bay-1", ["hub", "supply"])];
    expect(siblingsOf(one, [two], accountsOf(accountOf("a", visits), accountOf("b", minutes(1000, []))), 0.95)).toMatchObject([
      { signal: "b", agreement: { value: null, why: "the two were never known at the same time" }, kappa: { value: null }, sharedCauses: ["hub"] },
    ]);
    expect(siblingsOf(one, [two], accountsOf(accountOf("a", visits)), 0.95)[0]!.kappa.value).toBeNull();
  });
});
