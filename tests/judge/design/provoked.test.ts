import { describe, expect, test } from "vitest";
import { provokedTests, testTime, type Provoked } from "../../../src/judge/design/provoked.js";
import type { Timeline } from "../../../src/timeline/timeline.js";
import { line, min } from "../small-site.js";

/** Twenty tests of a power supply, one each hour, two minutes long. */
const twenty = Array.from({ length: 20 }, (_, hour): Provoked => ({ cause: "power", from: min(hour * 60), to: min(hour * 60 + 2) }));
const quiet = line("0 off");
const at = (...minutes: number[]): Timeline => line(["0 off", ...minutes.flatMap((minute) => [`${minute} on`, `${minute + 0.5} off`])].join(", "));

describe("tests on purpose", () => {
  test("of which none of 20 reached both parts leave at most 13.9 %", () => {
    const [found] = provokedTests(twenty, [quiet, at(1, 61, 121)], 0.95);
    expect(found).toMatchObject({ cause: "power", made: 20, reachedBoth: 0 });
    // Clopper and Pearson: 1 − 0.05^(1/20).
    expect(found?.atMostShare).toBeCloseTo(0.1391, 4);
  });

  test("reached both where each part began to hold during it or within ten minutes after", () => {
    const reached = (a: Timeline, b: Timeline): number | undefined => provokedTests(twenty.slice(0, 1), [a, b], 0.95)[0]?.reachedBoth;
    expect(reached(at(1), at(9))).toBe(1);
    expect(reached(at(1), at(12))).toBe(1);
    expect(reached(at(1), at(13))).toBe(0);
    expect(reached(at(1), quiet)).toBe(0);
  });

  test("count what began in them, and not what had begun before", () => {
    const before = line("0 off, 55 on, 65 off");
    expect(provokedTests(twenty.slice(1, 2), [before, at(61)], 0.95)[0]?.reachedBoth).toBe(0);
  });

  test("are told apart by cause, and those outside the period are left out", () => {
    const other: Provoked[] = [{ cause: "router", from: min(30), to: min(31) }, { cause: "router", from: min(3000), to: min(3001) }];
    expect(provokedTests([...twenty, ...other], [quiet, quiet], 0.95).map(({ cause, made }) => [cause, made])).toEqual([["power", 20], ["router", 1]]);
  });
});

test("a test lasts until ten minutes after its end: a board that restarts needs minutes", () => {
  expect(testTime({ cause: "power", from: min(5), to: min(7) })).toEqual({ from: min(5), to: min(17) });
});
