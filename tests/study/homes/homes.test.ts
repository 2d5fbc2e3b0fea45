import { describe, expect, it } from "vitest";
import { chanceNamed } from "../verdict/random.js";
import { homeKinds } from "./kinds.js";
import { liveIn, type HomeKind } from "./life.js";
import { judgeHome, measureHome, nothingMeasured } from "./measure.js";
import { exportHome, type Exported } from "./sensors.js";

/** Two weeks of a home, the same every time. */
function home(id: string, diaryDays = 0): Exported {
  const kind: HomeKind = homeKinds.find((one) => one.id === id)!;
  const chance = chanceNamed(`test ${id}`);
  return exportHome(kind, liveIn(kind, 20, chance), diaryDays, chance);
}

describe("homes with a door contact and motion only", () => {
  it("tell of arrivals and departures within a minute, and are right as often as they say", async () => {
    const measured = nothingMeasured();
    await measureHome(home("two people"), measured);
    expect(measured.longPlaced / measured.longTurns).toBeGreaterThan(0.9);
    // A bin of a few minutes tells nothing.
    const told = measured.told.filter(({ stretches }) => stretches >= 20);
    expect(told.length).toBeGreaterThan(0);
    for (const { ms, wrongMs, sum } of told) expect(wrongMs).toBeLessThanOrEqual(ms - sum);
  });

  it("never confirm a lock: nothing is held right without a diary, and nothing is cleared", async () => {
    for (const id of ["two people, a robot cleans every morning", "one person and a cat"]) {
      const rules = await judgeHome(home(id));
      expect(rules.map(({ right, wrong, verdict }) => [right, wrong, verdict])).toEqual([[0, 0, "not proven yet"], [0, 0, "not proven yet"]]);
      expect(rules[0]!.trulyWrong).toBeGreaterThan(0);
    }
  });

  it("hold right only what the diary says", async () => {
    const rules = await judgeHome(home("one person", 8));
    for (const { verdict, right, firings } of rules) {
      expect(right).toBeLessThan(firings);
      expect(verdict).not.toBe("clear to enable");
    }
  });
});
