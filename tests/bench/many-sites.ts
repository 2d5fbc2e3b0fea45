/**
 * Writes many small invented sites for the batch demonstration: one bay with two meters, a door, a phone, one rule, a month.
 * Usage: many-sites.js FOLDER SITES ROWS_A_SITE
 */
import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { randomStream } from "../../src/simulate/random.js";

const [folder, sites, rows] = [process.argv[2]!, Number(process.argv[3]), Number(process.argv[4])];
const START = Date.UTC(2026, 5, 1);
const DAYS = 30;
const DAY_MS = 86_400_000;

function siteText(name: string): string {
  return `site: ${name}
timezone: UTC
sources:
  log: { files: log.csv, time: { column: at, written: epoch-s }, signal: what, value: says }
bays: { bay: {} }
doors: { door: {} }
people: { ida: {} }
signals:
  overhead: { on: bay, source: log, channel: overhead, kind: distance, unit: ft, present: [3.7, 4.7], settle: 20s, expect: 5min, model: mast-2 }
  wall: { on: bay, source: log, channel: wall, kind: distance, unit: in, present: [10, 40], maximum: 118, settle: 20s, expect: 5min, model: side-1 }
  rail: { on: door, source: log, channel: rail, kind: contact, open: [open], closed: [closed] }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: [in], away: [out] }
rules:
  - name: unlock on arrival
    act: unlock
    when: { all: [ { signal: overhead, turned: occupied, within: 2min }, { signal: wall, is: occupied }, { signal: rail, is: open }, { signal: phone, turned: here, within: 10min } ] }
limits: { confidence: 0.95, unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min } }
`;
}

/** Rows of a month in time order: meters at a steady pace, a drive to work and back each day, now and then a missed visit. */
function logText(seed: number): string {
  const random = randomStream(seed, "many-sites");
  const bad = seed % 50 === 7 ? 0.25 : 0.02;
  const step = (DAYS * DAY_MS) / (rows / 2);
  const events: [number, string, string][] = [];
  const away: { from: number; to: number; missed: boolean }[] = [];
  for (let day = 0; day < DAYS; day += 1) {
    const leaves = START + day * DAY_MS + 8 * 3_600_000 + random() * 1_200_000;
    const returns = START + day * DAY_MS + 17 * 3_600_000 + random() * 1_200_000;
    away.push({ from: leaves + 30_000, to: returns + 90_000, missed: random() < bad });
    events.push([leaves, "rail", "open"], [leaves + 60_000, "rail", "closed"], [leaves + 180_000, "phone", "out"]);
    events.push([returns, "phone", "in"], [returns + 60_000, "rail", "open"], [returns + 180_000, "rail", "closed"]);
  }
  events.push([START, "rail", "closed"], [START, "phone", "in"]);
  let next = 0;
  for (let at = START; at < START + DAYS * DAY_MS; at += step) {
    while (next < away.length && away[next]!.to <= at) next += 1;
    const trip = away[next];
    const gone = trip !== undefined && at >= trip.from;
    events.push([at, "overhead", (gone ? 8.1 : 4.2).toFixed(1)]);
    events.push([at + 500, "wall", (gone && trip.missed ? 20 : gone ? 118 : 20 + random()).toFixed(1)]);
  }
  events.sort((a, b) => a[0] - b[0]);
  return `at,what,says\n${events.map(([at, what, says]) => `${(at / 1000).toFixed(1)},${what},${says}`).join("\n")}\n`;
}

for (let i = 0; i < sites; i += 1) {
  const name = `yard ${String(i).padStart(4, "0")}`;
  const place = join(folder, name.replace(" ", "-"));
  mkdirSync(place, { recursive: true });
  writeFileSync(join(place, "site.yaml"), siteText(name));
  writeFileSync(join(place, "log.csv"), logText(i));
}
