import { createWriteStream } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { once } from "node:events";
import { join } from "node:path";
import { finished } from "node:stream/promises";

/** October 2026, in UTC. */
export const fleetPeriod = { from: Date.UTC(2026, 9, 1), to: Date.UTC(2026, 10, 1) } as const;

/** What the site file below says, for whoever wants to work the same out by other means. Bands in feet. */
export const fleetWords = { overheadBand: [3, 5.5], wallBand: [1, 3], withinMs: 120_000, bridgeMs: 60_000, restMs: 300_000 } as const;

const HOUR_MS = 3_600_000;
/** About so many rows of a bay begin a silence, and show the wrong state: as many in a month of more rows. */
const SILENCES = 30;
const WRONG_READINGS = 40;
/** Rows are written in pieces of about this many characters. */
const PIECE = 500_000;

/** Numbers in [0, 1) that are the same for the same seed (mulberry32). */
function randomNumbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

const bayName = (bay: number): string => String(bay + 1).padStart(2, "0");

/**
 * Writes a seeded month of a yard: a file a bay, `rows` rows in all. Each bay has two meters and a tag that speak at equal
 * times, and a door contact that speaks twice as seldom. A vehicle comes and goes several times a day. One row in two hundred is dirt
 * (unreadable, repeated, late), and each meter is silent now and then. More rows mean shorter times between them, not
 * more arrivals. Returns the folder's site file.
 */
export async function writeFleet(folder: string, bays: number, rows: number, seed: number): Promise<string> {
  await mkdir(join(folder, "exports"), { recursive: true });
  const everyMs = Math.max(1000, Math.round(((fleetPeriod.to - fleetPeriod.from) * bays * 3.5) / rows / 1000) * 1000);
  for (let bay = 0; bay < bays; bay++) await writeBay(join(folder, "exports", `bay-${bayName(bay)}.csv`), bay, Math.round(rows / bays), randomNumbers(seed * 1000 + bay));
  const siteFile = join(folder, "site.yaml");
  await writeFile(siteFile, siteText(bays, everyMs));
  return siteFile;
}

async function writeBay(path: string, bay: number, rows: number, random: () => number): Promise<void> {
  const out = createWriteStream(path);
  const name = bayName(bay);
  let text = "stamp,channel,reading\n";
  const step = (fleetPeriod.to - fleetPeriod.from) / rows;
  let occupied = false;
  let nextMove = fleetPeriod.from + random() * 8 * HOUR_MS;
  let doorOpenUntil = 0;
  const silentUntil = [0, 0];
  let late = "";
  for (let i = 0; i < rows; i++) {
    const at = Math.floor(fleetPeriod.from + i * step + random() * step * 0.9);
    if (at >= nextMove) {
      occupied = !occupied;
      nextMove = at + (0.2 + random()) * 6 * HOUR_MS;
      doorOpenUntil = at + (1 + random() * 3) * 60_000;
    }
    // Of seven rows two are of each meter and the tag, and one of the contact.
    const turn = i % 7;
    const who = turn === 6 ? 3 : turn % 3;
    if (who < 2 && random() < SILENCES / rows) silentUntil[who] = at + random() * 2 * HOUR_MS;
    const wrong = random() < WRONG_READINGS / rows;
    const seen = wrong ? !occupied : occupied;
    const silent = who < 2 && at < silentUntil[who]!;
    const reading = who === 0 ? (seen ? 4 + random() : 8 + random() * 3).toFixed(2) : who === 1 ? (seen ? 1.5 + random() : 6 + random()).toFixed(2) : who === 2 ? (occupied ? "in" : "out") : at < doorOpenUntil ? "open" : "closed";
    // A silent meter's rows are the tag's: the number of rows stays.
    const row = silent ? `${stampText(at)},tag-${name},${occupied ? "in" : "out"}\n` : `${stampText(at)},${["over", "wall", "tag", "door"][who]!}-${name},${reading}\n`;
    const dirt = random();
    if (dirt < 0.001) text += row.replace(/,[^,]*\n$/, ",fault\n");
    else if (dirt < 0.003) text += `${row}${row}`;
    else if (dirt < 0.005 && late === "") late = row;
    else {
      text += row + late;
      late = "";
    }
    if (text.length > PIECE) {
      if (!out.write(text)) await once(out, "drain");
      text = "";
    }
  }
  out.end(text + late);
  await finished(out);
}

let lastSecond = Number.NaN;
let lastText = "";

/** ISO 8601 in UTC to the millisecond, the second remembered: most rows share one with a neighbour or follow it. */
function stampText(at: number): string {
  const second = Math.floor(at / 1000);
  if (second !== lastSecond) {
    lastSecond = second;
    lastText = new Date(second * 1000).toISOString().slice(0, 19);
  }
  return `${lastText}.${String(at % 1000).padStart(3, "0")}Z`;
}

function siteText(bays: number, everyMs: number): string {
  const names = Array.from({ length: bays }, (_, bay) => bayName(bay));
  const all = (line: (name: string) => string): string => names.map((name) => `  ${line(name)}\n`).join("");
  const expect = `${Math.ceil((everyMs * 2) / 1000)}s`;
  return `site: Bench Yard
timezone: Europe/London
sources:
  log: { files: exports/bay-*.csv, time: { column: stamp, written: iso }, signal: channel, value: reading }
bays:
${all((name) => `bay-${name}: {}`)}doors:
${all((name) => `door-${name}: {}`)}people:
${all((name) => `driver-${name}: {}`)}signals:
${all((name) => `over-${name}: { on: bay-${name}, source: log, channel: over-${name}, kind: distance, unit: ft, present: [${fleetWords.overheadBand.join(", ")}], expect: ${expect} }`)}${all((name) => `wall-${name}: { on: bay-${name}, source: log, channel: wall-${name}, kind: distance, unit: ft, present: [${fleetWords.wallBand.join(", ")}], expect: ${expect} }`)}${all((name) => `tag-${name}: { on: driver-${name}, source: log, channel: tag-${name}, kind: flag, here: in, away: out }`)}${all((name) => `rail-${name}: { on: door-${name}, source: log, channel: door-${name}, kind: contact, open: open, closed: closed }`)}rules:
  - name: unlock for bay 1
    act: unlock
    when: { all: [ { signal: over-01, turned: occupied, within: 2min }, { signal: rail-01, is: open } ] }
    rest: 5min
  - name: lock behind bay 2
    act: lock
    when: { all: [ { signal: over-02, is: empty }, { signal: wall-02, is: empty }, { signal: rail-02, is: closed }, { signal: tag-02, is: away, held: 5min } ] }
limits:
  unlock: { wrong_per_year: 12, missed_share: 0.10, within: 2min }
  lock: { wrong_per_year: 12, missed_share: 0.10, within: 15min }
`;
}
