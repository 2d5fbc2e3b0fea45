import { describe, expect, test } from "vitest";
import { compareTurns, lagOfReferenceTurn } from "../../../src/truth/episodes/compare-turns.js";
import { accountOf, MINUTE, minutes } from "./small-site.js";

const settings = { joinMs: 10 * MINUTE, bridgeMs: 2 * MINUTE };
const oneVisit = minutes(300, [[0, 0], [100, 1], [200, 0]]);

describe("compareTurns", () => {
  test("gives the lag of the answer, positive when the signal was later", () => {
    const comparison = compareTurns(accountOf("s", minutes(300, [[0, 0], [102, 1], [199, 0]])), oneVisit, 1, settings);
    expect(lagOfReferenceTurn(comparison, 0)).toBe(2 * MINUTE);
    const off = compareTurns(accountOf("s", minutes(300, [[0, 0], [102, 1], [199, 0]])), oneVisit, 0, settings);
    expect(lagOfReferenceTurn(off, 0)).toBe(-MINUTE);
  });

  test("a signal that comes back from a long silence saying on did not see the arrival", () => {
    const comparison = compareTurns(accountOf("s", minutes(300, [[0, 0], [98, 2], [105, 1], [200, 0]])), oneVisit, 1, settings);
    expect(comparison.signal).toEqual([]);
    expect(lagOfReferenceTurn(comparison, 0)).toBeNull();
    expect(comparison.watched).toEqual([false]);
  });

  test("a gap short enough to be bridged hides nothing, and its lag is told from the middle of the gap", () => {
    const comparison = compareTurns(accountOf("s", minutes(300, [[0, 0], [100, 2], [102, 1], [200, 0]])), oneVisit, 1, settings);
    expect(comparison.watched).toEqual([true]);
    expect(lagOfReferenceTurn(comparison, 0)).toBe(MINUTE);
  });

  test("a reference that was disputed for eight minutes still turned; for eleven, nothing is claimed", () => {
    const prompt = accountOf("s", minutes(300, [[0, 0], [101, 1], [200, 0]]));
    const disputed = compareTurns(prompt, minutes(300, [[0, 0], [100, 2], [108, 1], [200, 0]]), 1, settings);
    expect(disputed.reference).toEqual([{ earliest: 100 * MINUTE, at: 108 * MINUTE }]);
    expect(lagOfReferenceTurn(disputed, 0)).toBe(-3 * MINUTE);
    expect(compareTurns(prompt, minutes(300, [[0, 0], [100, 2], [111, 1], [200, 0]]), 1, settings).reference).toEqual([]);
  });

  test("a restart hides a turn however short it is", () => {
    const account = accountOf("s", minutes(300, [[0, 0], [100, 2], [101, 1], [200, 0]]), { restarts: [{ from: 100 * MINUTE, to: 101 * MINUTE, cause: "hub" }] });
    const comparison = compareTurns(account, oneVisit, 1, settings);
    expect(comparison.signal).toEqual([]);
    expect(comparison.watched).toEqual([false]);
    // Not because it is a gap: without the restart it is bridged.
    expect(compareTurns({ ...account, restarts: [] }, oneVisit, 1, settings).watched).toEqual([true]);
  });

  test("a restart hides the turns around it, and none that come longer than `join` after it", () => {
    const restartAt = (minute: number) =>
      accountOf("s", minutes(300, [[0, 0], [minute, 2], [minute + 1, 0], [100, 1], [200, 0]]), { restarts: [{ from: minute * MINUTE, to: (minute + 1) * MINUTE, cause: "hub" }] });
    expect([88, 89, 90].map((minute) => compareTurns(restartAt(minute), oneVisit, 1, settings).watched)).toEqual([[true], [true], [false]]);
  });

  test("whether a turn was watched does not depend on whether it was answered", () => {
    // Answered promptly, but blind five minutes later: a later answer would have been lost, so it is no trial either way.
    const comparison = compareTurns(accountOf("s", minutes(300, [[0, 0], [100, 1], [105, 2], [150, 1], [200, 0]])), oneVisit, 1, settings);
    expect(lagOfReferenceTurn(comparison, 0)).toBe(0);
    expect(comparison.watched).toEqual([false]);
  });

  test("a turn too near the end of the period to be answered in time is not watched", () => {
    const late = minutes(300, [[0, 0], [295, 1]]);
    expect(compareTurns(accountOf("s", minutes(300, [[0, 0]])), late, 1, settings).watched).toEqual([false]);
    expect(compareTurns(accountOf("s", minutes(300, [[0, 0]])), minutes(300, [[0, 0], [290, 1]]), 1, settings).watched).toEqual([true]);
  });
});
