import { describe, expect, it } from "vitest";
import { renderFleet } from "../../src/report/fleet-page.js";
import type { Fleet, WorkOrder } from "../../src/result/fleet.js";
import { smallFleet } from "./example-fleets.js";

const [pattern] = smallFleet.orders;
const [part] = smallFleet.parts;
if (pattern === undefined || part === undefined) throw new Error("the example lists nothing");
const order = (site: string, firstSeen: string, lastSeen: string, more: Partial<WorkOrder> = {}): WorkOrder => ({ ...pattern, key: `${site} ${firstSeen}`, site, place: "bay-1", kind: "place", mode: "dark", state: "new", firstSeen, lastSeen, ...more });
const october = { from: Date.UTC(2026, 9, 1), to: Date.UTC(2026, 10, 1), days: 31, label: pattern.month };
/** A fleet of these sites' Octobers, with these on its list. */
const fleetOf = (orders: readonly WorkOrder[]): Fleet => ({
  ...smallFleet,
  parts: [...new Set(orders.map(({ site }) => site))].map((site) => ({ ...part, site, timeZone: "UTC", period: october })),
  orders: [...orders],
  modes: [...new Set(orders.map(({ mode }) => mode))].map((mode) => ({ mode, places: 1, wrong: 0, silentHours: 0, nightsLost: 0 })),
});
const sectionOf = async (orders: readonly WorkOrder[]): Promise<string> => /<section class="rule" id="where">.*?<\/section>/su.exec(await renderFleet(fleetOf(orders)))?.[0] ?? "";

describe("where and when", () => {
  it("draws a bar a listed place, in its site's column, from its first day to its last", async () => {
    const section = await sectionOf([order("alder", "2026-10-01", "2026-10-31"), order("brook", "2026-10-11", "2026-10-12"), order("brook", "2026-10-05", "2026-10-05")]);
    // A column is 31 days and 3 between; a lane is 12 high.
    expect([...section.matchAll(/<path class="place"[^>]* d="([^"]+)"/g)].map(([, d]) => d)).toEqual(["M10 3h2v8h-2z", "M4 15h1v8h-1z", "M34 3h31v8h-31z"]);
    expect(section).toContain("brook, bay-1: 2026-10-05</title>");
    expect(section).toContain("has most of the list");
  });

  it("leaves out what was mended, and is not drawn for one site alone", async () => {
    expect(await sectionOf([order("alder", "2026-10-01", "2026-10-31"), order("brook", "2026-10-11", "2026-10-12", { state: "mended" })])).toBe("");
    expect(await sectionOf([order("alder", "2026-10-01", "2026-10-31"), order("alder", "2026-10-11", "2026-10-12")])).toBe("");
  });
});
