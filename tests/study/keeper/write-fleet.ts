/**
 * Writes the exports and site files of a fleet with planted faults, to look at: `node .build/scripts/tests/study/keeper/write-fleet.js FOLDER [MONTHS]`.
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Depot, depotMonth, type Planted } from "./depot.js";

const [folder = "fleet", monthsText = "1"] = process.argv.slice(2);
const names = ["Alder", "Brook", "Cinder", "Dale", "Ember", "Forge"];
const months = [8, 9, 10].slice(-Number(monthsText));

/** What is wrong with each depot in each month. */
function plantedIn(depot: string, month: number): Planted[] {
  switch (depot) {
    case "Alder":
      return month === 10 ? [{ mode: "restarting", board: "wall-board", times: 14 }] : [];
    case "Brook":
      return month === 10 ? [{ mode: "stuck", sensor: "bay-7-wall", fromDay: 16, days: 15 }] : [{ mode: "missing turns", sensor: "bay-2-overhead", share: 0.3 }];
    case "Cinder":
      return month === 10 ? [{ mode: "stuck", sensor: "gate-rail", fromDay: 5, days: 8 }, { mode: "renamed", sensor: "bay-9-overhead" }] : [];
    case "Dale":
      return [{ mode: "chattering", sensor: "bay-3-overhead", times: month === 8 ? 2 : 24 }];
    case "Ember":
      return [{ mode: "late", sensor: "bay-10-wall", minutes: 2 * (month - 6) }, ...(month === 10 ? [{ mode: "cut off", source: "meters", day: 26 } as const] : [])];
    default:
      return month === 10 ? [{ mode: "dark", sensor: "bay-12-wall", fromDay: 21, days: 10 }, { mode: "drifting", sensor: "bay-5-overhead", centimetres: 12 }] : [];
  }
}

for (const month of months) {
  for (const [i, name] of names.entries()) {
    const from = Date.UTC(2026, month - 1, 1);
    const days = (Date.UTC(2026, month, 1) - from) / 86_400_000;
    const depot: Depot = { name: `${name} depot`, seed: 100 * month + i, bays: 12, tags: name !== "Forge", rule: true, from, days, planted: plantedIn(name, month) };
    const place = join(folder, `2026-${String(month).padStart(2, "0")}`, name.toLowerCase());
    mkdirSync(place, { recursive: true });
    for (const [file, text] of Object.entries(depotMonth(depot).files)) writeFileSync(join(place, file), text);
  }
}
