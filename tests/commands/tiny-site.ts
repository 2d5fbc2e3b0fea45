import { mkdtemp, mkdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { Surroundings } from "../../src/commands/surroundings.js";

/** A week at an invented house with one bay, one door, one person; two sensors on the bay. */
export const tinySite = `site: Otter Cottage
timezone: Europe/London
sources:
  log: { files: log.csv, time: { column: at, written: iso }, signal: what, value: says }
bays: { bay: {} }
doors: { door: {} }
people: { ida: {} }
signals:
  overhead: { on: bay, source: log, channel: overhead, kind: distance, unit: ft, present: [3.7, 4.7] }
  wall: { on: bay, source: log, channel: wall, kind: distance, unit: in, present: [10, 40], maximum: 118 }
  rail: { on: door, source: log, channel: rail, kind: contact, open: [open], closed: [closed] }
  phone: { on: ida, source: log, channel: phone, kind: phone, here: [in], away: [out] }
rules:
  - name: unlock on arrival
    act: unlock
    when: { all: [ { signal: overhead, turned: occupied, within: 2min }, { signal: wall, is: occupied }, { signal: rail, is: open }, { signal: phone, turned: here, within: 10min } ] }
limits:
  confidence: 0.95
  unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min }
`;

/** Seven days: away at 08:00, home at 17:00, everything agrees. */
export function tinyLog(days = 7): string {
  const rows = ["at,what,says"];
  for (let day = 1; day <= days; day += 1) {
    const date = `2026-06-${String(day).padStart(2, "0")}`;
    const add = (time: string, what: string, says: string): void => void rows.push(`${date}T${time}Z,${what},${says}`);
    if (day === 1) for (const [what, says] of [["overhead", "4.2"], ["wall", "20"], ["rail", "closed"], ["phone", "in"]] as const) add("00:00:00", what, says);
    add("08:00:00", "rail", "open");
    add("08:00:30", "overhead", "8.1");
    add("08:00:31", "wall", "118");
    add("08:01:00", "rail", "closed");
    add("08:03:00", "phone", "out");
    add("17:00:00", "phone", "in");
    add("17:01:00", "rail", "open");
    add("17:01:30", "wall", "20");
    add("17:01:40", "overhead", "4.2");
    add("17:03:00", "rail", "closed");
  }
  return `${rows.join("\n")}\n`;
}

/** Writes files (relative path → content) into a new temporary folder and returns it. */
export async function folderWith(files: Readonly<Record<string, string | Uint8Array>>): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-site-"));
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(folder, name)), { recursive: true });
    await writeFile(join(folder, name), content);
  }
  return folder;
}

/** Surroundings that remember what was said, with a clock that stands still. */
export function listening(folder: string): Surroundings & { readonly said: () => string; readonly told: () => string } {
  let said = "";
  let told = "";
  return {
    say: (text) => void (said += text),
    tell: (text) => void (told += text),
    tellsTerminal: false,
    colour: false,
    terminal: null,
    now: () => Date.UTC(2026, 6, 1),
    folder,
    said: () => said,
    told: () => told,
  };
}
