/* eslint-disable @typescript-eslint/no-non-null-assertion -- a group has at least one part, and `waiting` is held against their number */
import { addReading, finishPacking, makePacker, type PackedReadings } from "./packed-readings.js";
import type { Readings } from "./readings.js";
import { advance, readingCursor, type ReadingCursor } from "./unpack.js";

/**
 * One signal's readings from those of each file, `parts` in file order. Readings that several files hold count once; at
 * equal instants, earlier files come first. Files that do not overlap are not copied.
 */
export function mergedReadings(signal: string, parts: readonly PackedReadings[]): Readings {
  const ordered = parts
    .map((packed, order) => ({ packed, order }))
    .filter(({ packed }) => packed.count > 0)
    .sort((a, b) => a.packed.first - b.packed.first || a.order - b.order);
  const merged: PackedReadings[] = [];
  let group: Part[] = [];
  let groupLast = -Infinity;
  for (const part of ordered) {
    if (part.packed.first > groupLast && group.length > 0) {
      merged.push(mergedGroup(group));
      group = [];
    }
    group.push(part);
    groupLast = Math.max(groupLast, part.packed.last);
  }
  if (group.length > 0) merged.push(mergedGroup(group));
  return { signal, parts: merged };
}

interface Part {
  readonly packed: PackedReadings;
  readonly order: number;
}

/** Merges parts that overlap, sorted by their first instants. */
function mergedGroup(group: readonly Part[]): PackedReadings {
  if (group.length === 1) return group[0]!.packed;
  const packer = makePacker(group[0]!.packed.unit);
  const active: { readonly cursor: ReadingCursor; readonly order: number }[] = [];
  let waiting = 0;
  let instant = -Infinity;
  let valuesThere: number[] = [];
  for (;;) {
    let next = earliest(active);
    while (waiting < group.length && (next === null || group[waiting]!.packed.first <= next.cursor.instant)) {
      const { packed, order } = group[waiting++]!;
      const cursor = readingCursor(packed);
      if (advance(cursor)) active.push({ cursor, order });
      next = earliest(active);
    }
    if (next === null) return finishPacking(packer);
    const { cursor } = next;
    if (cursor.instant > instant) valuesThere = [];
    instant = cursor.instant;
    if (!valuesThere.some((value) => Object.is(value, cursor.value))) {
      addReading(packer, instant, cursor.value);
      valuesThere.push(cursor.value);
    }
    if (!advance(cursor)) active.splice(active.indexOf(next), 1);
  }
}

function earliest<One extends { readonly cursor: ReadingCursor; readonly order: number }>(active: readonly One[]): One | null {
  let best: One | null = null;
  for (const one of active) {
    if (best === null || one.cursor.instant < best.cursor.instant || (one.cursor.instant === best.cursor.instant && one.order < best.order)) best = one;
  }
  return best;
}
