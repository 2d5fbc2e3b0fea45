import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { compareTurns } from "../../../src/truth/episodes/compare-turns.js";
import type { FalseStretch } from "../../../src/truth/episodes/false-stretches.js";
import { contradictions } from "../../../src/truth/episodes/false-stretches.js";
import { canonicalTimeline } from "../../../src/timeline/make.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import type { MinuteSteps } from "./small-site.js";
import { accountOf, MINUTE, minutes } from "./small-site.js";

const settings = { joinMs: 10 * MINUTE, bridgeMs: 2 * MINUTE };
const oneVisit = minutes(600, [[0, 0], [200, 1], [400, 0]]);

function found(steps: MinuteSteps, reference: Timeline = oneVisit): string[] {
  return all(minutes(600, steps), reference).map((one) => `${one.sort} ${one.said === 1 ? "on" : "off"} ${one.from / MINUTE}–${one.to / MINUTE}${one.takenBack ? " taken back" : ""}`);
}

function all(timeline: Timeline, reference: Timeline): FalseStretch[] {
  const account = accountOf("s", timeline);
  return contradictions(account, reference, [compareTurns(account, reference, 0, settings), compareTurns(account, reference, 1, settings)], settings).found;
}

describe("contradictions", () => {
  test("says nothing of a signal that is right", () => {
    expect(found([[0, 0], [200, 1], [400, 0]])).toEqual([]);
  });
  test("finds a false arrival in an empty bay, once and not at both edges", () => {
    expect(found([[0, 0], [50, 1], [55, 0], [200, 1], [400, 0]])).toEqual(["phantom on 50–55 taken back"]);
  });
  test("finds a dropout inside a visit", () => {
    expect(found([[0, 0], [200, 1], [300, 0], [320, 1], [400, 0]])).toEqual(["phantom off 300–320 taken back"]);
  });
  test("a late or early signal lags, it does not see phantoms", () => {
    expect(found([[0, 0], [205, 1], [407, 0]])).toEqual([]);
    expect(found([[0, 0], [195, 1], [392, 0]])).toEqual([]);
  });
  test("a signal that misses a visit, or stays on after it, sees no phantom", () => {
    expect(found([[0, 0]])).toEqual([]);
    expect(found([[0, 0], [200, 1]])).toEqual([]);
    expect(found([[0, 0], [200, 1], [500, 0]])).toEqual([]);
  });
  test("on long before the arrival is a phantom, though the arrival then makes it true", () => {
    expect(found([[0, 0], [100, 1], [400, 0]])).toEqual(["phantom on 100–200"]);
  });
  test("a short visit reported late is a lag", () => {
    expect(found([[0, 0], [203, 1], [205, 0]], minutes(600, [[0, 0], [200, 1], [202, 0]]))).toEqual([]);
  });
  test("a bounce within a minute of the transition is told apart from a phantom", () => {
    expect(found([[0, 0], [199.5, 1], [199.75, 0], [200.1, 1], [400, 0]])).toEqual(["bounce on 199.5–199.75 taken back"]);
  });
  test("a sensor stuck on through silences, its own and the reference's, is false once", () => {
    const reference = minutes(600, [[0, 0], [300, 2], [310, 0]]);
    expect(found([[0, 0], [100, 1], [200, 2], [220, 1], [500, 0]], reference)).toEqual(["phantom on 100–500 taken back"]);
  });
  test("comes back from a silence saying on while the bay is empty: false, though it never turned", () => {
    expect(found([[0, 0], [20, 2], [60, 1], [90, 0], [200, 1], [400, 0]])).toEqual(["phantom on 60–90 taken back"]);
  });
  test("where the reference is unknown nobody contradicts", () => {
    expect(found([[0, 0], [50, 1], [55, 0]], minutes(600, [[0, 2]]))).toEqual([]);
  });

  test("begins and ends in a contradiction, never agrees in between, and does not overlap its neighbours", () => {
    const timeline = fc
      .array(fc.tuple(fc.integer({ min: 0, max: 119 }), fc.integer({ min: 0, max: 2 })), { maxLength: 10 })
      .map((steps) => steps.sort((a, b) => a[0] - b[0]))
      .map((steps) => canonicalTimeline(0, 120 * MINUTE, steps.map((step) => step[0] * MINUTE), steps.map((step) => step[1])));
    fc.assert(
      fc.property(timeline, timeline, (account, reference) => {
        let last = 0;
        for (const one of all(account, reference)) {
          expect(one.from).toBeGreaterThanOrEqual(last);
          expect(one.to).toBeGreaterThan(one.from);
          for (const edge of [one.from, one.to - 1]) expect([stateAt(account, edge), stateAt(reference, edge)]).toEqual([one.said, 1 - one.said]);
          for (let t = one.from; t < one.to; t += MINUTE) {
            expect(stateAt(account, t)).not.toBe(1 - one.said);
            if (stateAt(account, t) === one.said) expect(stateAt(reference, t)).not.toBe(one.said);
          }
          last = one.to;
        }
        expect(all(account, account)).toEqual([]);
      }),
      { numRuns: 300 },
    );
  });
});
