import { describe, expect, test } from "vitest";
import type { CauseGroup } from "../../../src/truth/reference/causes.js";
import { identify, type Identification } from "../../../src/truth/reference/identify.js";
import type { Nearby } from "../../../src/truth/reference/nearby.js";

/** Segments of one kind: what each witness votes (2: nothing), the diary's word, and how many there are. */
type Kinds = readonly (readonly [votes: readonly number[], written: 0 | 1 | 2, count: number])[];

const alone = (w: number): CauseGroup => ({ members: [w], causes: [], asOne: false });
const apart = (witnesses: number): CauseGroup[] => Array.from({ length: witnesses }, (_, w) => alone(w));

interface Movements {
  readonly told: number;
  readonly givenChange: number;
  readonly givenNone: number;
}

function identified(kinds: Kinds, groups: readonly CauseGroup[], movements?: Movements): Identification {
  const observations = {
    kinds: kinds.map(([votes, written]) => ({ votes, written })),
    kindCounts: kinds.map(([, , count]) => count),
    chain: { kindOf: new Int32Array(0), moveOf: new Int32Array(0) },
    moves: [],
    diaryOnly: [],
    sorts: [],
  };
  const nearby: Nearby[] = movements === undefined ? [] : [{ class: "door", moved: Uint8Array.from({ length: 40 }, (_, i) => (i < movements.told ? i % 2 : 2)), baseShare: 0.1 }];
  const rates = {
    saysOnGivenOff: [],
    saysOffGivenOn: [],
    changes: 0.5,
    movedGivenChange: movements === undefined ? [] : [movements.givenChange],
    movedGivenStay: movements === undefined ? [] : [movements.givenNone],
  };
  return identify(observations, groups, nearby, rates);
}

describe("whether error rates can be learnt", () => {
  test("not without a single vote", () => {
    expect(identified([[[2, 2], 0, 50]], apart(2))).toMatchObject({ identified: false, by: null, why: "Who is right cannot be told: no sensor says anything." });
  });

  test("not from one witness, nor from one whose fellows say nothing", () => {
    const why = "Who is right cannot be told: there is only one sensor.";
    expect(identified([[[1], 2, 500]], apart(1)).why).toBe(why);
    expect(identified([[[1, 2, 2], 2, 500]], apart(3)).why).toBe(why);
  });

  test("not from witnesses that are all connected", () => {
    const kinds: Kinds = [[[1, 1, 0], 2, 500]];
    expect(identified(kinds, [{ members: [0, 1, 2], causes: ["board", "hub"], asOne: false }]).why).toBe("Who is right cannot be told: all sensors depend on board, hub.");
    expect(identified(kinds, [{ members: [0, 1, 2], causes: [], asOne: true }]).why).toBe("Who is right cannot be told: all sensors were seen to go wrong together.");
  });

  test("from three groups that vote together in twenty segments, and no fewer", () => {
    expect(identified([[[1, 1, 0], 2, 12], [[0, 0, 0], 2, 8], [[1, 1, 2], 2, 90]], apart(3))).toEqual({
      identified: true, by: "witnesses", beyondDiary: true, why: "Three or more sensors without a common cause speak at once in 20 stretches.",
    });
    expect(identified([[[1, 1, 0], 2, 19], [[1, 1, 2], 2, 90]], apart(3))).toMatchObject({
      identified: false, beyondDiary: false, why: "Who is right cannot be told: three sensors without a common cause speak at once in only 19 stretches, and at least 20 are needed.",
    });
  });

  test("not from two groups of three witnesses: two on one board are one", () => {
    expect(identified([[[1, 1, 0], 2, 500]], [{ members: [0, 1], causes: ["board"], asOne: false }, alone(2)]).why).toMatch(/Who is right cannot be told: two sensors without a common cause do not show which of them is wrong when they differ, and nothing else tells\./);
  });

  test("from two with movements nearby that are clearly commoner at true transitions", () => {
    const kinds: Kinds = [[[1, 0], 2, 20]];
    expect(identified(kinds, apart(2), { told: 20, givenChange: 0.75, givenNone: 0.25 })).toMatchObject({ by: "movements", beyondDiary: true });
    expect(identified(kinds, apart(2), { told: 20, givenChange: 0.75, givenNone: 0.25 }).why).toContain("50 percentage points more");
    expect(identified(kinds, apart(2), { told: 19, givenChange: 0.75, givenNone: 0.25 }).identified).toBe(false);
    expect(identified(kinds, apart(2), { told: 20, givenChange: 0.5, givenNone: 0.125 }).identified).toBe(false);
    expect(identified([[[1, 0], 2, 19]], apart(2), { told: 20, givenChange: 0.75, givenNone: 0.25 }).identified).toBe(false);
  });

  test("from the diary, where it knows five segments of each state for every witness", () => {
    const known = (on: number, off: number): Kinds => [[[1, 1], 1, on], [[0, 1], 0, off]];
    expect(identified(known(5, 6), apart(2))).toMatchObject({ by: "diary", beyondDiary: false, why: "Your diary covers each sensor in at least 5 stretches of each state." });
    expect(identified(known(4, 9), apart(2)).identified).toBe(false);
    expect(identified(known(9, 4), apart(2)).identified).toBe(false);
    // A witness that voted nowhere in the diary cannot be judged by it.
    expect(identified([...known(9, 9).map(([votes, written, count]): Kinds[number] => [[...votes, 2], written, count]), [[2, 2, 1], 2, 30]], apart(3)).identified).toBe(false);
  });

  test("also outside the diary, if the votes or movements there would do alone", () => {
    const kinds: Kinds = [[[1, 1, 1], 1, 10], [[0, 0, 0], 0, 10]];
    expect(identified(kinds, apart(3))).toMatchObject({ by: "diary", beyondDiary: true });
    expect(identified(kinds.map(([votes, written, count]): Kinds[number] => [votes.slice(1), written, count]), apart(2), { told: 40, givenChange: 0.9, givenNone: 0.1 })).toMatchObject({ by: "diary", beyondDiary: true });
  });
});
