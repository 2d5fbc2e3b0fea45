import { describe, expect, test } from "vitest";
import { findDisagreements } from "../../../src/compare/signals/disagreements.js";
import { accountOf, accountsOf, bookOf, brokenBook, MINUTE, minutes, referenceOf, signal, siteWith, subject, type MinuteSteps } from "../../truth/episodes/small-site.js";

const site = siteWith([subject("bay-1", "bay")], [signal("overhead", "bay-1"), signal("wall", "bay-1")]);
const about = (overhead: MinuteSteps, wall: MinuteSteps, truth: MinuteSteps = overhead) =>
  findDisagreements(site, accountsOf(accountOf("overhead", minutes(1000, overhead)), accountOf("wall", minutes(1000, wall))), bookOf({ "bay-1": minutes(1000, truth) }))[0]!;

describe("findDisagreements", () => {
  test("signals that say the same leave nothing to list", () => {
    expect(about([[0, 0], [100, 1]], [[0, 0], [100, 1]])).toEqual({ subject: "bay-1", count: 0, brief: 0, hours: 0, list: [], pairs: [] });
  });

  test("the longest comes first, with who said what and who stands against the reference", () => {
    const found = about([[0, 0], [100, 1], [400, 0]], [[0, 0], [102, 1], [200, 0], [320, 1], [400, 0]]);
    expect(found).toMatchObject({ count: 2, brief: 0 });
    expect(found.hours).toBeCloseTo(122 / 60);
    expect(found.list.map(({ from, to }) => [from / MINUTE, to / MINUTE])).toEqual([[200, 320], [100, 102]]);
    expect(found.list[0]).toMatchObject({ saidOn: ["overhead"], saidOff: ["wall"], againstReference: ["wall"], reference: "on" });
  });

  test("the excerpt shows every signal and the reference, a little longer than the stretch", () => {
    const { excerpt } = about([[0, 0], [100, 1]], [[0, 0], [150, 1]]).list[0]!;
    expect([excerpt.from / MINUTE, excerpt.to / MINUTE]).toEqual([90, 160]);
    expect(excerpt.lanes).toEqual([
      { label: "overhead", role: "signal", steps: [[90 * MINUTE, "off"], [100 * MINUTE, "on"]] },
      { label: "wall", role: "signal", steps: [[90 * MINUTE, "off"], [150 * MINUTE, "on"]] },
      { label: "bay-1", role: "reference", steps: [[90 * MINUTE, "off"], [100 * MINUTE, "on"]] },
    ]);
  });

  test("silence is no disagreement", () => {
    expect(about([[0, 0], [100, 2], [300, 0]], [[0, 0], [100, 1], [300, 0]], [[0, 0], [100, 2], [300, 0]]).count).toBe(0);
  });

  test("a signal alone can stand against a reference that somebody wrote down", () => {
    const alone = siteWith([subject("bay-1", "bay")], [signal("wall", "bay-1")]);
    const found = findDisagreements(alone, accountsOf(accountOf("wall", minutes(100, [[0, 0]]))), (subject, excluding) => referenceOf(subject, minutes(100, [[0, 0], [40, 1], [60, 0]]), excluding, "diary"));
    expect(found[0]!.list).toMatchObject([{ from: 40 * MINUTE, to: 60 * MINUTE, saidOn: [], saidOff: ["wall"], againstReference: ["wall"] }]);
  });

  test("all are counted, though few are listed", () => {
    const flicker = Array.from({ length: 60 }, (_, i) => [10 + i * 5, i % 2 === 0 ? 1 : 0] as const);
    const found = about([[0, 0]], [[0, 0], ...flicker]);
    expect(found.count).toBe(30);
    expect(found.list).toHaveLength(10);
  });

  test("a subject of which nothing is known does not stop the others", () => {
    const two = siteWith([subject("bay-1", "bay"), subject("bay-2", "bay")], [signal("wall", "bay-1"), signal("other", "bay-2")]);
    const found = findDisagreements(two, accountsOf(accountOf("wall", minutes(100, [[0, 0]])), accountOf("other", minutes(100, [[0, 1]]))), bookOf({ "bay-1": minutes(100, []), "bay-2": minutes(100, [[0, 0]]) }));
    expect(found.map(({ count }) => count)).toEqual([0, 1]);
  });

  test("signals that differ about a subject of which nothing is known are told all the same", () => {
    const site = siteWith([subject("bay-1", "bay")], [signal("wall", "bay-1"), signal("overhead", "bay-1")]);
    const found = findDisagreements(site, accountsOf(accountOf("wall", minutes(100, [[0, 0]])), accountOf("overhead", minutes(100, [[0, 1]]))), bookOf({ "bay-1": minutes(100, []) }));
    expect(found[0]).toMatchObject({ count: 1, list: [{ saidOn: ["overhead"], saidOff: ["wall"], againstReference: [], reference: "unknown" }] });
  });

  test("a fault of the program in the reference is passed on", () => {
    expect(() => findDisagreements(siteWith([subject("bay-1", "bay")], []), new Map(), brokenBook)).toThrow(TypeError);
  });
});
