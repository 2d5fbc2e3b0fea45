import { describe, expect, it } from "vitest";
import { retellableAccounts, signalAccounts } from "../../../src/truth/signals/accounts.js";
import { MINUTE, every, feet, meter, readingsMap, signal, siteOf } from "./small-site.js";

describe("an account with another band", () => {
  const board = { shares: ["board"], expectMs: MINUTE };
  const site = siteOf([meter("d1", { near: 3.7, far: 4.7 }, board), signal("r1", board), signal("r2", board), signal("r3", board)]);
  const period = { from: 0, to: 60 * MINUTE };
  // All four fall silent together from minute 20 to minute 30: a restart of the board.
  const spoken = (value: number) => [...every(MINUTE, 0, 20 * MINUTE, value), ...every(MINUTE, 30 * MINUTE, 60 * MINUTE, value)];
  const readings = readingsMap({ d1: spoken(feet(4.9)), r1: spoken(1), r2: spoken(0), r3: spoken(0) });
  const told = retellableAccounts(site, readings, period);

  it("is what the account of a site with that band would be, restarts included", () => {
    const band = { ...site.signals[0]!.band!, farMetres: feet(5) };
    const other = signalAccounts({ ...site, signals: site.signals.map((one) => (one.id === "d1" ? { ...one, band } : one)) }, readings, period);
    expect(told.accounts.get("d1")?.live.states).toContain(0);
    expect(told.withBand("d1", band)).toEqual(other.get("d1"));
    expect(told.withBand("d1", band).restarts).toHaveLength(1);
    expect(told.withBand("d1", band).live.states).toContain(1);
  });

  it("is refused for a signal the site has not", () => {
    expect(() => told.withBand("d9", site.signals[0]!.band!)).toThrow("No signal of the site is called d9.");
  });
});
