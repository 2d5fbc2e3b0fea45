import { describe, expect, it } from "vitest";
import { fleetOf } from "../../../src/compare/fleets/fleet.js";
import type { Counts } from "../../../src/result/counts.js";
import { bayName, simulatedFleet } from "../../study/simulated-fleet.js";

const making = { madeAt: Date.UTC(2026, 6, 1), madeBy: "test", leftOut: [] };
const fleetOfSeed = (seed: number): Counts[] => simulatedFleet({ bays: 36, baysASite: 12, worse: [], times: 1, shape: 8, seed });
const changed = (counts: readonly Counts[], signal: string, more: Partial<Counts["signals"][number]>): Counts[] =>
  counts.map((site) => ({ ...site, signals: site.signals.map((one) => (one.signal === signal ? { ...one, ...more } : one)) }));

describe("a comparison that one bad unit cannot bend", () => {
  it.each([10, 50, 200])("still finds a weak fault beside a sensor that chatters %i times", (times) => {
    const weak = `${bayName(20)}-wall`;
    const sound = changed(fleetOfSeed(4), weak, { turns: 120, missedTurns: 56 });
    const alone = fleetOf(sound, making).signals.find(({ signal }) => signal === weak)!;
    const beside = fleetOf(changed(sound, `${bayName(3)}-overhead`, { phantoms: times }), making).signals.find(({ signal }) => signal === weak)!;
    expect(alone.faults.standsOut).toBe(true);
    expect(beside.faults.standsOut).toBe(true);
    expect(beside.faults.expected).toBeCloseTo(alone.faults.expected!, 0);
  });

  it("lists by the limits of its site what is too little to stand out among fellows that differ by nature", () => {
    const weak = `${bayName(20)}-wall`;
    const fleet = fleetOf(changed(fleetOfSeed(4), weak, { turns: 120, missedTurns: 22 }), making);
    expect(fleet.signals.find(({ signal }) => signal === weak)!.faults.standsOut).toBe(false);
    expect(fleet.orders).toMatchObject([{ place: weak, mode: "missing turns", reason: "Missed 22 of 120 changes." }]);
  });

  it("lists a sensor that is stuck all month without any fellow, by the limits of its site", () => {
    const [site] = fleetOfSeed(4);
    const alone = { ...site!, bays: site!.bays.slice(0, 1), signals: site!.signals.slice(0, 1).map((one) => ({ ...one, turns: 80, missedTurns: 80, phantoms: 0 })) };
    const fleet = fleetOf([alone], making);
    expect(fleet.signals[0]!.faults.expected).toBeNull();
    expect(fleet.orders).toMatchObject([{ place: `${bayName(0)}-overhead`, wrong: 80, turns: 80 }]);
  });

  it("blames no model for one sensor, and says what share its worst has", () => {
    const fleet = fleetOf(changed(fleetOfSeed(4), `${bayName(7)}-wall`, { phantoms: 300 }), making);
    const side = fleet.models.find(({ model }) => model === "side-1")!;
    expect(side.faults.standsOut).toBe(false);
    expect(side.worst).toMatchObject({ signal: `${bayName(7)}-wall` });
    expect(side.worst!.share).toBeGreaterThan(0.5);
    expect(fleet.orders.filter(({ kind }) => kind === "update")).toEqual([]);
  });
});
