import { readdir } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { DAY_MS } from "../../ground/units.js";
import { findExports } from "../../intake/find-exports.js";
import { cutAtHolder } from "../../intake/input-file.js";
import { localText } from "../../intake/period.js";
import type { Readings, SetAsideRow } from "../../intake/readings.js";
import type { TimePart } from "../../intake/time-parts.js";
import type { LedgerRow } from "../../result/ledger.js";
import type { Site } from "../../site/site.js";

/** A signal that has said nothing for so long at the end has perhaps another name now (our own choice). */
const SILENT_MS = 2 * DAY_MS;
/** More names are only counted. */
const MOST_LISTED = 8;
/** Files that exports come in; others in the folder are nobody's business. */
const exportEndings = /\.(?:csv|tsv|txt|json|jsonl|ndjson|parquet|gpx|xlsx|xlsm|zip|db|db3|sqlite|sqlite3)(?:\.gz)?$/i;

/** Channels that the site file does not know, counted by source and name. */
export interface NewChannels {
  readonly add: (row: SetAsideRow) => void;
  readonly list: () => { readonly channel: string; readonly rows: number; readonly file: string }[];
}

/** Nothing counted yet. */
export function makeNewChannels(): NewChannels {
  const counts = new Map<string, { rows: number; readonly file: string }>();
  return {
    add({ channel, file }) {
      if (channel === undefined) return;
      const known = counts.get(channel);
      if (known === undefined) counts.set(channel, { rows: 1, file });
      else known.rows++;
    },
    list: () => [...counts].map(([channel, { rows, file }]) => ({ channel, rows, file })).sort((a, b) => b.rows - a.rows),
  };
}

/** What the exports bring that the site file does not know: channels, signals that fell silent, files that no source takes in. */
export async function newsLines(site: Site, channels: NewChannels, readings: ReadonlyMap<string, Readings>, main: TimePart | null, ledger: readonly LedgerRow[]): Promise<string[]> {
  const fresh = channels.list();
  const silent = main === null ? [] : site.signals.flatMap(({ id }) => silentSince(id, readings.get(id), main, site.timeZone));
  const lines = [
    ...fresh.slice(0, MOST_LISTED).map(({ channel, rows, file }) => `  new: the channel ${JSON.stringify(channel)}, ${rows} ${rows === 1 ? "row" : "rows"}, first in ${file}`),
    ...(fresh.length > MOST_LISTED ? [`  new: ${fresh.length - MOST_LISTED} more channels`] : []),
    ...silent,
    ...(await strayFiles(site, ledger)).map((file) => `  new: the file ${file} is taken in by no source`),
  ];
  if (fresh.length === 0) return lines;
  const example = `channel: [old name, ${JSON.stringify(fresh[0]?.channel ?? "")}]`;
  return [...lines, `  a channel that is a signal under a new name: write both, as in \`${example}\`; one that is none of yours: add it to \`leave_out\` of its source`];
}

function silentSince(id: string, readings: Readings | undefined, { from, to }: TimePart, timeZone: string): string[] {
  const last = readings?.parts.at(-1)?.last ?? -Infinity;
  const first = readings?.parts[0]?.first ?? Infinity;
  if (!Number.isFinite(last)) return [];
  // A sensor that reports changes only may be silent for as long.
  const count = readings?.parts.reduce((sum, part) => sum + part.count, 0) ?? 0;
  const usual = count > 1 ? (last - first) / (count - 1) : 0;
  return to - last > Math.max(SILENT_MS, 20 * usual) && last > from ? [`  ${id} says nothing since ${localText(last, timeZone)}`] : [];
}

/** Files beside those that were read, and in the same archives, which look like exports and belong to no source. */
async function strayFiles({ folder, file, diary }: Site, ledger: readonly LedgerRow[]): Promise<string[]> {
  const read = new Set(ledger.map((row) => row.file));
  const holders = new Set([...read].flatMap((name) => cutAtHolder(name)?.file ?? []));
  const folders = [...new Set([...read].map((name) => dirname(cutAtHolder(name)?.file ?? name)))].filter((one) => one !== ".");
  const beside = await Promise.all(folders.map(async (one) => (await readdir(resolve(folder, one)).catch(() => [])).map((name) => `${one}/${name}`)));
  const within = await findExports([...holders], folder, "check", []);
  // Of a spreadsheet or a database only some sheets and tables are exports at all.
  const members = within.filter(({ part }) => part?.holder === "zip").map(({ name }) => name);
  return [...beside.flat(), ...members]
    .filter((name) => exportEndings.test(name) && !read.has(name) && !holders.has(name) && !diary.includes(name) && name !== file)
    .slice(0, MOST_LISTED);
}
