import type { IntakeWatch, SetAsideRow } from "../../intake/readings.js";

/** How many rows of each channel that the site file does not know, by file and channel. */
export type UnknownChannels = ReadonlyMap<string, ReadonlyMap<string, number>>;

/** More of them in one file are no renamed channels, but a file of something else. Our own choice. */
const MOST_CHANNELS = 200;

/** A watch that counts rows of unknown channels, and hands everything on to `watch`. */
export function countUnknownChannels(watch: IntakeWatch): { readonly watch: IntakeWatch; readonly unknown: UnknownChannels } {
  const unknown = new Map<string, Map<string, number>>();
  const onSetAside = (row: SetAsideRow): void => {
    watch.onSetAside(row);
    if (row.reason !== "channel not in the site file") return;
    const channel = channelOf(row.detail);
    if (channel === null) return;
    const ofFile = unknown.get(row.file) ?? new Map<string, number>();
    unknown.set(row.file, ofFile);
    const count = ofFile.get(channel);
    if (count !== undefined || ofFile.size < MOST_CHANNELS) ofFile.set(channel, (count ?? 0) + 1);
  };
  return { watch: { ...watch, onSetAside }, unknown };
}

/** The cell of `column "what": "o09"`; null where the cell is withheld. */
function channelOf(detail: string): string | null {
  return /^column ".*": "(.*)"$/s.exec(detail)?.[1] ?? null;
}
