import { beforeAll, describe, expect, it } from "vitest";
import { fleetOf } from "../../../src/compare/fleets/fleet.js";
import { workOrdersCsv } from "../../../src/compare/fleets/work-orders.js";
import type { Counts } from "../../../src/result/counts.js";
import type { Fleet } from "../../../src/result/fleet.js";
import type { Depot, Planted } from "../../study/keeper/depot.js";
import { auditedDepot } from "../../study/keeper/fleet-month.js";

/*
 * Work orders followed over six months of three depots, made by the generator of the studies, which shares no code with the program: what is
 * planted in a month is on the list of that month, under the same key as long as it lasts, and is mended in the month after.
 */
const MONTHS = [5, 6, 7, 8, 9, 10];
const making = { madeAt: Date.UTC(2026, 10, 2), madeBy: "test", leftOut: [] };
const label = (month: number): string => `2026-${String(month).padStart(2, "0")}`;

function plantedIn(depot: string, month: number): Planted[] {
  if (depot === "Alder") return month >= 6 && month <= 8 ? [{ mode: "stuck", sensor: "bay-2-wall", fromDay: 4, days: 20 }] : [];
  if (depot === "Brook") return month >= 7 ? [{ mode: "chattering", sensor: "bay-1-overhead", times: 40 }] : [];
  return month === 9 ? [{ mode: "renamed", sensor: "bay-3-wall" }] : month === 6 ? [{ mode: "dark", sensor: "bay-3-wall", fromDay: 10, days: 6 }] : [];
}

async function monthOf(month: number): Promise<Counts[]> {
  const from = Date.UTC(2026, month - 1, 1);
  const days = (Date.UTC(2026, month, 1) - from) / 86_400_000;
  const depots = ["Alder", "Brook", "Cinder"].map((name, i): Depot => ({ name, seed: 50 * month + i, bays: 3, tags: true, rule: false, from, days, planted: plantedIn(name, month), everyMinutes: 60 }));
  return Promise.all(depots.map((depot) => auditedDepot(depot, label(month))));
}

describe("work orders over six months", () => {
  const fleets: Fleet[] = [];
  beforeAll(async () => {
    const all: Counts[] = [];
    for (const month of MONTHS) {
      all.push(...(await monthOf(month)));
      fleets.push(fleetOf(all, making));
    }
  }, 180_000);
  const of = (key: string): string[] => fleets.map(({ orders }) => orders.filter((order) => order.key === key).map(({ state, monthsOpen }) => `${state} ${monthsOpen}`).join());

  it("keep their key while a fault lasts, and close in the month after", () => {
    expect(of("alder/bay-2-wall/stuck")).toEqual(["", "new 1", "open 2", "open 3", "mended 3", ""]);
    expect(of("brook/bay-1-overhead/chattering")).toEqual(["", "", "new 1", "open 2", "open 3", "open 4"]);
    expect(of("cinder/bay-3-wall/dark")).toEqual(["", "new 1", "mended 1", "", "", ""]);
    expect(of("cinder/bay-3-wall/export")).toEqual(["", "", "", "", "new 1", "mended 1"]);
  });

  it("hold nothing else", () => {
    const keys = new Set(fleets.flatMap(({ orders }) => orders.map(({ key }) => key)));
    expect([...keys].toSorted()).toEqual(["alder/bay-2-wall/stuck", "brook/bay-1-overhead/chattering", "cinder/bay-3-wall/dark", "cinder/bay-3-wall/export"]);
  });

  it("say since when, and follow the place's own figure", () => {
    const order = fleets[3]!.orders.find(({ mode }) => mode === "stuck")!;
    expect(order).toMatchObject({ month: "2026-08-01", firstSeen: expect.stringMatching(/^2026-06-0[4-8]$/) as string, page: "sites/alder.html" });
    expect(order.trend.points.map(({ month }) => month)).toEqual(["2026-05", "2026-06", "2026-07", "2026-08"]);
    expect(order.trend.points[0]!.value).toBeLessThan(5);
    expect(order.trend.points[3]!.value).toBeGreaterThan(15);
  });

  it("put exports first and what was mended last, in a table with a row each", () => {
    const september = fleets[4]!;
    expect(september.orders.map(({ kind, state, priority }) => `${priority} ${kind} ${state}`)).toEqual(["1 export new", "2 place open", "3 place mended"]);
    const [head = "", ...rows] = workOrdersCsv(september).trimEnd().split("\r\n");
    expect(head.split(",").slice(0, 6)).toEqual(["key", "month", "kind", "state", "priority", "site"]);
    expect(rows).toHaveLength(3);
  });

  it("count failures and months to mend by model", () => {
    const { reliability } = fleets[5]!;
    const side = reliability.find(({ model }) => model === "side-2")!;
    expect(side).toMatchObject({ sensors: 9, failures: 2, monthsToMend: 2 });
    expect(side.daysBetween.value).toBeGreaterThan(700);
    expect(side.daysBetween.low!).toBeLessThan(side.daysBetween.value!);
    expect(side.availability).toBeGreaterThan(0.9);
  });
});

describe("a signal that was renamed", () => {
  it("stays the same work order", async () => {
    const [may, june] = await Promise.all([
      auditedDepot({ name: "Alder", seed: 1, bays: 2, tags: true, rule: false, from: Date.UTC(2026, 4, 1), days: 31, planted: [{ mode: "stuck", sensor: "bay-2-wall", fromDay: 4, days: 20 }] }, "2026-05"),
      auditedDepot({ name: "Alder", seed: 2, bays: 2, tags: true, rule: false, from: Date.UTC(2026, 5, 1), days: 30, planted: [{ mode: "stuck", sensor: "bay-2-overhead", fromDay: 4, days: 20 }] }, "2026-06"),
    ]);
    const renamed = (name: string): string => (name === "bay-2-overhead" ? "bay-2-side" : name);
    const swap = (counts: Counts): Counts => ({
      ...counts,
      // In June the wall meter is called bay-2-side, and the overhead one is gone from the comparison.
      signals: counts.signals.filter(({ signal }) => signal !== "bay-2-wall").map((one) => ({ ...one, signal: renamed(one.signal) })),
      upkeep: { ...counts.upkeep!, sensors: counts.upkeep!.sensors.filter(({ signal }) => signal !== "bay-2-wall").map((one) => ({ ...one, signal: renamed(one.signal) })) },
    });
    const before = { ...may, signals: may.signals.filter(({ signal }) => signal !== "bay-2-overhead"), upkeep: { ...may.upkeep!, sensors: may.upkeep!.sensors.filter(({ signal }) => signal !== "bay-2-overhead") } };
    const { orders } = fleetOf([before, swap(june)], making);
    expect(orders).toMatchObject([{ key: "alder/bay-2-wall/stuck", place: "bay-2-side", state: "open", monthsOpen: 2 }]);
  });
});
