import { parquetWriteBuffer } from "hyparquet-writer";
import { iso } from "./invented-exports.js";

/** A point of an invented track: epoch milliseconds and degrees. */
export type Point = readonly [at: number, latitude: number, longitude: number];

/** Invented places at sea. */
export const home = { latitude: 50.0123, longitude: -3.0045 } as const;
export const work = { latitude: 50.0823, longitude: -3.0945 } as const;

const MINUTE_MS = 60_000;
/** Degrees of latitude that are about 11 m. */
const WAVER = 0.0001;

/** A device that says its place every ten minutes from 1 June 2026 12:00 UTC: at home, but from 8:00 to 17:00 at work, half an hour on the way. */
export function daysOf(days: number, late = 0): Point[] {
  const start = Date.UTC(2026, 5, 1, 12);
  return Array.from({ length: days * 144 }, (_, i) => {
    const at = start + i * 10 * MINUTE_MS + late * 1000;
    const minute = Math.floor(at / MINUTE_MS) % 1440;
    // How far on the way to work: 0 at home, 1 there.
    const away = Math.min(1, Math.max(0, Math.min((minute - 480) / 30, (1020 - minute) / 30)));
    const waver = WAVER * (((i * 7) % 5) - 2);
    return [at, home.latitude + away * (work.latitude - home.latitude) + waver, home.longitude + away * (work.longitude - home.longitude)] as const;
  });
}

/** Points as one track; `name` null for a track without one. */
export function trackOf(points: readonly Point[], name: string | null): string {
  const rows = points.map(([at, latitude, longitude]) => `<trkpt lat="${latitude.toFixed(6)}" lon="${longitude.toFixed(6)}"><time>${iso(at)}</time></trkpt>`);
  return `<trk>${name === null ? "" : `<name>${name}</name>`}<trkseg>\n${rows.join("\n")}\n</trkseg></trk>\n`;
}

/** Tracks as a GPX file. */
export function gpxOf(...tracks: readonly string[]): string {
  return `<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">\n${tracks.join("")}</gpx>\n`;
}

/** Columns as a Parquet file. */
export function parquetOf(columnData: Parameters<typeof parquetWriteBuffer>[0]["columnData"], schema?: Parameters<typeof parquetWriteBuffer>[0]["schema"]): Uint8Array {
  return new Uint8Array(parquetWriteBuffer({ columnData, ...(schema === undefined ? {} : { schema }) }));
}

/** Rows of `stamp,channel,reading` as Parquet columns; the stamps as `stampColumn` makes them. */
export function parquetLog(rows: readonly string[], stampColumn: (stamps: readonly string[]) => Parameters<typeof parquetOf>[0][number]): Uint8Array {
  const cells = rows.map((row) => row.split(","));
  return parquetOf([
    stampColumn(cells.map(([stamp]) => stamp!)),
    { name: "channel", data: cells.map(([, channel]) => channel!), type: "STRING" },
    { name: "reading", data: cells.map(([, , reading]) => Number(reading)), type: "DOUBLE" },
  ]);
}
