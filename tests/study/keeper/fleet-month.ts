import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { audit } from "../../../src/pipeline.js";
import type { Counts } from "../../../src/result/counts.js";
import { countsOf } from "../../../src/result/count-findings.js";
import { chanceOf, DAY, type Depot, type DepotMonth, depotMonth, type Planted } from "./depot.js";

/** The month that is studied. */
export const MONTH = { label: "2026-10", from: Date.UTC(2026, 9, 1), days: 31 };

/** Audits a depot's exports, through the whole path, as the program would. */
export async function auditedDepot(depot: Depot, label: string): Promise<Counts> {
  return auditedMonth(depot, depotMonth(depot), label);
}

/** The same of a month that is made already. */
export async function auditedMonth(depot: Depot, { files }: DepotMonth, label: string): Promise<Counts> {
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-depot-"));
  try {
    for (const [name, text] of Object.entries(files)) await writeFile(join(folder, name), text);
    return countsOf(await audit(join(folder, "site.yaml"), { period: label, madeAt: depot.from + 400 * DAY }));
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** A planted fault with how strong it is, and what an order about it is called. */
export interface Case {
  readonly mode: string;
  readonly strength: "weak" | "middle" | "strong";
  readonly planted: (bay: number) => Planted;
  /** Whether the work order names the place: part of its name. */
  readonly place: (bay: number) => RegExp;
  /** The sensors that it makes wrong; none where what is missing is the export. */
  readonly sensors: (bay: number) => readonly string[];
  /** The depot needs a third witness in each bay, or must not have one. */
  readonly tags: boolean;
}

const strengths = ["weak", "middle", "strong"] as const;

/** How a mode shows: the place that the work order names, and the sensors that it makes wrong. */
interface Shown {
  readonly place: (bay: number) => RegExp;
  readonly sensors: (bay: number) => readonly string[];
}

function cases<Amount>(mode: string, amounts: readonly [Amount, Amount, Amount], planted: (bay: number, amount: Amount) => Planted, shown: Shown, tags = true): Case[] {
  return amounts.map((amount, i) => ({ mode, strength: strengths[i]!, planted: (bay) => planted(bay, amount), ...shown, tags }));
}

/** Depots in a fleet, bays in a depot. */
export const DEPOTS = 4;
export const BAYS = 6;

const wall = (bay: number): string => `bay-${bay}-wall`;
const everyBay = (sensor: string): string[] => Array.from({ length: BAYS }, (_, i) => `bay-${i + 1}-${sensor}`);
const ofWall: Shown = { place: (bay) => new RegExp(`\\bbay-${bay}-wall\\b`), sensors: (bay) => [wall(bay)] };
const ofExport = (place: (bay: number) => RegExp): Shown => ({ place, sensors: () => [] });
const other = (bay: number, by: number): number => ((bay - 1 + by) % BAYS) + 1;

/** Every mode at three strengths. */
export const studied: readonly Case[] = [
  ...cases("stuck", [4, 10, 31], (bay, days): Planted => ({ mode: "stuck", sensor: wall(bay), fromDay: days === 31 ? 0 : 8, days }), ofWall),
  ...cases("stuck gate contact", [3, 8, 31], (_, days): Planted => ({ mode: "stuck", sensor: "gate-rail", fromDay: days === 31 ? 0 : 8, days }), { place: () => /^gate-rail$/, sensors: () => ["gate-rail"] }),
  ...cases("chattering", [10, 50, 200], (bay, times): Planted => ({ mode: "chattering", sensor: wall(bay), times }), ofWall),
  ...cases("missing turns", [0.15, 0.3, 0.6], (bay, share): Planted => ({ mode: "missing turns", sensor: wall(bay), share }), ofWall),
  ...cases("late", [4, 8, 15], (bay, minutes): Planted => ({ mode: "late", sensor: wall(bay), minutes }), ofWall),
  ...cases("dark", [2, 8, 31], (bay, days): Planted => ({ mode: "dark", sensor: wall(bay), fromDay: days === 31 ? 0 : 8, days }), ofWall),
  ...cases("drifting", [6, 15, 30], (bay, centimetres): Planted => ({ mode: "drifting", sensor: wall(bay), centimetres }), ofWall),
  ...cases("restarting", [4, 10, 25], (_, times): Planted => ({ mode: "restarting", board: "wall-board", times }), { place: () => /^wall-board$/, sensors: () => everyBay("wall") }),
  ...cases("pair differs", [0.15, 0.3, 0.6], (bay, share): Planted => ({ mode: "missing turns", sensor: wall(bay), share }), ofWall, false),
  ...cases("clock", [4, 8, 60], (_, minutes): Planted => ({ mode: "clock", source: "tags", minutes }), { place: () => /\btags\b/, sensors: () => everyBay("tag") }),
  ...cases("swapped", [1, 2, 3], (bay, by): Planted => ({ mode: "swapped", sensors: [wall(bay), wall(other(bay, by))] }), ofWall),
  ...cases("renamed channel", [1, 2, 3], (bay): Planted => ({ mode: "renamed", sensor: wall(bay) }), ofExport(ofWall.place)),
  ...cases("cut off file", [28, 20, 8], (_, day): Planted => ({ mode: "cut off", source: "meters", day }), ofExport(() => /^meters$/)),
  ...cases("missing export", [{ fromDay: 28, days: 3 }, { fromDay: 10, days: 7 }, { fromDay: 0, days: 31 }], (_, gone): Planted => ({ mode: "missing export", source: "meters", ...gone }), ofExport(() => /^meters$/)),
];

const depotNames = ["Alder", "Brook", "Cinder", "Dale", "Ember", "Forge"];

/** A fleet of which some depots have one fault each; the first has none. */
export interface StudiedFleet {
  readonly depots: readonly Depot[];
  readonly faults: readonly { readonly site: string; readonly of: Case; readonly bay: number }[];
}

/** Fleet `number`: its faults are the next ones of the list, so that all are studied alike often. */
export function studiedFleet(number: number): StudiedFleet {
  const chance = chanceOf(number * 7919);
  const faults: { site: string; of: Case; bay: number }[] = [];
  const depots = Array.from({ length: DEPOTS }, (_, i): Depot => {
    const of = i === 0 ? null : studied[(number * (DEPOTS - 1) + i - 1) % studied.length]!;
    const bay = 1 + Math.floor(chance() * BAYS);
    const name = `${depotNames[i]} depot`;
    if (of !== null) faults.push({ site: name, of, bay });
    return { name, seed: number * 100 + i, bays: BAYS, tags: of === null ? number % 2 === 0 : of.tags, rule: false, from: MONTH.from, days: MONTH.days, planted: of === null ? [] : [of.planted(bay)] };
  });
  return { depots, faults };
}
