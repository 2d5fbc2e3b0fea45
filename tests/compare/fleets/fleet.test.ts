import { describe, expect, it } from "vitest";
import type { Counts } from "../../../src/result/counts.js";
import { fleetOf } from "../../../src/compare/fleets/fleet.js";
import { overlappingAudits } from "../../../src/compare/fleets/audits.js";
import { fleetBaysCsv, fleetSignalsCsv } from "../../../src/compare/fleets/tables.js";
import { renderFleet } from "../../../src/report/fleet-page.js";
import { bayName, simulatedFleet } from "../../study/simulated-fleet.js";

const making = { madeAt: Date.UTC(2026, 6, 1), madeBy: "test", leftOut: [] };
const fleetOfSeed = (seed: number, worse: readonly number[]): Counts[] => simulatedFleet({ bays: 60, baysASite: 10, worse, times: 8, shape: Infinity, seed });

describe("a fleet result", () => {
  const parts = fleetOfSeed(3, [17, 41]);
  const fleet = fleetOf(parts, making);

  it("finds the bays made worse, and sends someone there first, with reasons", () => {
    expect(fleet.bays.filter((bay) => bay.faults.standsOut).map((bay) => bay.bay)).toEqual([bayName(17), bayName(41)]);
    expect([...new Set(fleet.orders.map((order) => order.subject))].toSorted()).toEqual([bayName(17), bayName(41)]);
    expect(fleet.orders[0]!.reason).toMatch(/\d+ of \d+ changes/);
  });

  it("does not depend on the order of its parts, nor on a part given twice", () => {
    expect(fleetOf([...parts].reverse(), making)).toEqual(fleet);
    expect(fleetOf([...parts, parts[2]!, { ...parts[0]!, made: { at: Date.parse("2026-08-01T00:00:00.000Z"), by: "another machine" } }], making)).toEqual(fleet);
  });

  it("compares the latest audit of each site, and refuses to count a stretch of time twice", () => {
    const july = parts.map((part) => ({ ...part, period: { from: Date.parse("2026-07-01T00:00:00.000Z"), to: Date.parse("2026-07-31T00:00:00.000Z"), days: 30, label: "2026-07" } }));
    const both = fleetOf([...parts, ...july], making);
    expect(both.parts).toHaveLength(12);
    expect(both.signals[0]).toMatchObject({ days: 30, turns: fleet.signals[0]!.turns, from: "2026-07-01", to: "2026-07-30" });
    expect(both.orders.map(({ state, monthsOpen }) => ({ state, monthsOpen }))).toEqual(fleet.orders.map(() => ({ state: "open", monthsOpen: 2 })));
    const late = { ...parts[0]!, period: { ...parts[0]!.period, from: Date.parse("2026-06-30T23:00:00.000Z"), to: Date.parse("2026-07-15T00:00:00.000Z") } };
    expect(overlappingAudits([...parts, late]).map(([a, b]) => [a.site.name, b.period.from])).toEqual([["yard 00", Date.parse("2026-06-30T23:00:00.000Z")]]);
    expect(() => fleetOf([...parts, late], making)).toThrow("Two audits of one site cover the same time.");
  });

  it("finds a model that is worse than the others of its kind", () => {
    const worse = fleetOfSeed(5, []).map((site) => ({
      ...site,
      signals: site.signals.map((one, i) => (one.model === "side-1" && i % 6 < 3 ? { ...one, model: "side-9", phantoms: one.phantoms * 4 + 6 } : one)),
    }));
    const { models } = fleetOf(worse, making);
    expect(models.filter((one) => one.faults.standsOut).map((one) => one.model)).toEqual(["side-9"]);
  });

  it("tells firmware of one model apart", () => {
    const noted = fleetOfSeed(6, []).map((site) => ({
      ...site,
      signals: site.signals.map((one, i) => (one.model === "side-1" ? { ...one, firmware: i % 6 < 2 ? "2.0" : "1.4", phantoms: i % 6 < 2 ? one.phantoms * 4 + 6 : one.phantoms } : one)),
    }));
    const { firmwares } = fleetOf(noted, making);
    expect(firmwares.map((one) => [one.model, one.firmware, one.faults.standsOut])).toEqual([
      ["side-1", "1.4", false],
      ["side-1", "2.0", true],
    ]);
  });

  it("charges neither of two meters that differ: their pair is listed once, and where to look first", () => {
    const paired = fleetOfSeed(9, []).map((site, s) => ({
      ...site,
      signals: site.signals.map((one, i) => {
        const other = site.signals[i % 2 === 0 ? i + 1 : i - 1]!;
        const differing = s === 2 && (i === 6 || i === 7);
        return { ...one, turns: 0, missedTurns: 0, visits: 0, missedVisits: 0, phantoms: 0, judgedDays: 0, flaps: differing && i === 7 ? 40 : 2, disagreements: [{ with: other.signal, count: differing ? 30 : (i >> 1) % 3, jointDays: 29 }] };
      }),
    }));
    const fleet = fleetOf(paired, making);
    const [first, second] = [paired[2]!.signals[6]!.signal, paired[2]!.signals[7]!.signal];
    expect(fleet.pairs).toHaveLength(60);
    expect(fleet.signals.filter((one) => one.faults.standsOut)).toEqual([]);
    expect(fleet.pairs.filter((one) => one.disagreements.standsOut)).toMatchObject([{ signals: [first, second].sort(), days: 29, disagreements: { count: 30 }, lookFirst: { signal: second } }]);
    expect(fleet.bays.filter((one) => one.faults.standsOut)).toMatchObject([{ bay: bayName(23), faults: { count: 30 } }]);
    // The one that flickers is listed by itself, and the pair no more.
    expect(fleet.orders).toMatchObject([{ place: second, mode: "chattering" }]);
    const calm = paired.map((site) => ({ ...site, signals: site.signals.map((one) => ({ ...one, flaps: 2 })) }));
    expect(fleetOf(calm, making).orders).toMatchObject([{ mode: "pair differs", sensors: [first, second].sort(), reason: expect.stringContaining("They differ 30 times; typical for other pairs would be") as string }]);
  });

  it("says that older audits charged both of two meters that differ", () => {
    const [old, ...rest] = fleetOfSeed(8, []);
    const before = { ...old!, signals: old!.signals.map((one) => ({ ...one, disagreements: undefined })) };
    expect(fleetOf([before, ...rest], making).notes).toEqual(["One audit is of an older version, which blamed both of two sensors that differ; audit it again for a better answer."]);
  });

  it("sends someone to a dark signal without any statistics", () => {
    const [first, ...rest] = fleetOfSeed(8, []);
    const dark = { ...first!, signals: first!.signals.map((one, i) => (i === 3 ? { ...one, knownDays: 3, silentDays: 27 } : one)) };
    expect(fleetOf([dark, ...rest], making).orders).toMatchObject([{ site: "yard 00", place: `${bayName(1)}-wall`, mode: "dark", reason: "Was silent for 648 h, 90 % of the time." }]);
  });

  it("stands in tables with a row each, and on a page that shows hostile names as text", async () => {
    expect(fleetBaysCsv(fleet).trimEnd().split("\r\n")).toHaveLength(61);
    expect(fleetSignalsCsv(fleet).trimEnd().split("\r\n")).toHaveLength(121);
    const hostile = parts.map((part, i) => (i === 0 ? { ...part, site: { ...part.site, name: "<img src=x onerror=alert(1)>\u202e" } } : part));
    const page = await renderFleet(fleetOf(hostile, making));
    expect(page).not.toContain("<img");
    expect(page).toContain("‹U+202E›");
    expect(page).toContain("Send someone here first");
  });
});
