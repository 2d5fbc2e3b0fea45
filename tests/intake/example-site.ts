import { mkdtemp, mkdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import type { IntakeResult, SetAsideRow } from "../../src/intake/readings.js";
import { readExports } from "../../src/intake/read-exports.js";
import type { SignalSpec, Site, Source } from "../../src/site/site.js";
import { pairsOf } from "./packed.js";

/** A distance meter over bay-1 in feet, on channel `d1` of the source `board`. */
export function distanceSignal(id: string, parts: Partial<SignalSpec> = {}): SignalSpec {
  return {
    id,
    subject: "bay-1",
    source: "board",
    kind: "distance",
    channel: "d1",
    reading: { form: "distance", unit: "ft" },
    band: { nearMetres: 1, farMetres: 2, slackMetres: 0, maximumMetres: null },
    settleMs: 0,
    expectMs: null,
    shares: [],
    model: null,
    ...parts,
  };
}

/** A door contact that says 1 for open and 0 for closed, on channel `r1`. */
export function contactSignal(id: string, parts: Partial<SignalSpec> = {}): SignalSpec {
  return distanceSignal(id, { subject: "yard-door", kind: "contact", channel: "r1", reading: { form: "words", on: ["1"], off: ["0"] }, band: null, ...parts });
}

/** A phone's position, with home at 51.5, -0.12. */
export function positionSignal(id: string, parts: Partial<SignalSpec> = {}): SignalSpec {
  return distanceSignal(id, {
    subject: "mira",
    kind: "position",
    channel: "p1",
    reading: { form: "position", homeLatitude: 51.5, homeLongitude: -0.12 },
    band: { nearMetres: 0, farMetres: 150, slackMetres: 0, maximumMetres: null },
    ...parts,
  });
}

/** The source `board`: long layout, columns stamp, channel, reading. */
export function longSource(parts: Partial<Source> = {}): Source {
  return {
    id: "board",
    files: ["board.csv"],
    timeColumn: "stamp",
    written: "iso",
    zone: "Europe/London",
    skippedHour: "set-aside",
    delimiter: ",",
    decimal: ".",
    encoding: null,
    layout: { form: "long", signalColumn: "channel", valueColumn: "reading", latitudeColumn: null, longitudeColumn: null },
    missing: [],
    lost: [],
    clockCorrectionMs: 0,
    ...parts,
  };
}

/** A site with one bay, one door and one person; a fresh folder of its own. */
export async function exampleSite(parts: Partial<Site> = {}): Promise<Site> {
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-intake-"));
  return {
    name: "Heron Lane",
    file: join(folder, "site.yaml"),
    folder,
    timeZone: "Europe/London",
    sources: [longSource()],
    subjects: [
      { id: "bay-1", class: "bay", vehicle: "estate" },
      { id: "yard-door", class: "door", vehicle: null },
      { id: "mira", class: "person", vehicle: null },
    ],
    signals: [distanceSignal("overhead"), contactSignal("rail")],
    rules: [],
    confidence: 0.95,
    limits: {},
    diary: [],
    bridgeMs: 60_000,
    joinMs: 600_000,
    restartMs: 5000,
    ...parts,
  };
}

/** Writes files into the site's folder. */
export async function writeFiles(site: Site, files: Readonly<Record<string, string | Uint8Array>>): Promise<void> {
  for (const [name, content] of Object.entries(files)) {
    await mkdir(dirname(join(site.folder, name)), { recursive: true });
    await writeFile(join(site.folder, name), content);
  }
}

/** Writes the files, reads the site's exports, and gives what came of it, with the readings of each signal as pairs. */
export async function intakeOf(files: Readonly<Record<string, string | Uint8Array>>, parts: Partial<Site> = {}): Promise<IntakeResult & { setAside: SetAsideRow[]; pairs: Record<string, [string, number][]> }> {
  const site = await exampleSite(parts);
  await writeFiles(site, files);
  const setAside: SetAsideRow[] = [];
  const result = await readExports(site, { onSetAside: (row) => setAside.push(row) });
  const pairs = Object.fromEntries([...result.readings].map(([id, readings]) => [id, pairsOf(readings).map(([time, value]): [string, number] => [new Date(time).toISOString(), value])]));
  return { ...result, setAside, pairs };
}
