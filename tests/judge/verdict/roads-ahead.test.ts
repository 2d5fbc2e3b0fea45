import { describe, expect, test } from "vitest";
import { roadsAheadText } from "../../../src/judge/verdict/roads-ahead.js";
import type { LimitClaim } from "../../../src/result/design.js";

/** What each road supports now, and after 3, 6, 12 and 24 more months. */
const claims = (byCounting: readonly (number | null)[], byDesign: readonly (number | null)[]): LimitClaim[] =>
  [0, 3, 6, 12, 24].map((moreMonths, i) => ({ moreMonths, byCounting: byCounting[i] ?? null, byDesign: byDesign[i] ?? null }));

const none = [null, null, null, null, null];
const slow = [45, 12, 6, 4, 2];

describe("which road gets to the limit first", () => {
  test("is told with the months it takes", () => {
    expect(roadsAheadText(claims([45, 12, 6, 4, 2], none), 6)).toBe("Another 6 months without more faults than these would show it by counting.");
    expect(roadsAheadText(claims(slow, [null, 3, 0.9, 0.4, 0.2]), 0.5)).toBe("Another 12 months could show it by design.");
  });

  test("is the quicker one; of equals, counting, which assumes less", () => {
    expect(roadsAheadText(claims([45, 12, 6, 4, 0.4], [null, 3, 0.4, 0.3, 0.2]), 0.5)).toBe("Another 6 months could show it by design.");
    expect(roadsAheadText(claims([45, 0.5, 0.4, 0.3, 0.2], [null, 0.5, 0.4, 0.3, 0.2]), 0.5)).toBe("Another 3 months without more faults than these would show it by counting.");
    expect(roadsAheadText(claims([45, 0.5, 0.4, 0.3, 0.2], [null, 3, 0.4, 0.3, 0.2]), 0.5)).toBe("Another 3 months without more faults than these would show it by counting.");
  });

  test("may have got there by what was seen, where something else keeps the verdict open", () => {
    expect(roadsAheadText(claims(slow, [0.4, 0.3, 0.2, 0.1, 0.1]), 0.5)).toBe("What was seen could show it by design.");
  });
});

describe("where neither gets there in two years", () => {
  test("is told what each would show by then", () => {
    expect(roadsAheadText(claims(slow, [null, 9, 6, 4, 1.234]), 0.5)).toBe("Even 24 more months like these could show no better than 1.3 a year by design or 2 a year by counting.");
    expect(roadsAheadText(claims(slow, none), 0.5)).toBe("Even 24 more months like these could show no better than 2 a year by counting.");
  });

  test("is told that nothing shows where neither road is open", () => {
    expect(roadsAheadText(claims(none, none), 0.5)).toBe("More months like these show no limit at all.");
  });

  test("is never told as a number of months beyond those looked at", () => {
    expect(roadsAheadText(claims([900, 800, 700, 600, 500], none), 0.5)).not.toMatch(/\d{3} (more )?months/);
  });
});

test("nothing is said where nothing is claimed", () => {
  expect(roadsAheadText([], 0.5)).toBe("");
});
