import type { PackedReadings } from "./packed-readings.js";

/** Copies packed readings into memory of its own; what it was given may be let go. */
export type KeepReadings = (packed: PackedReadings) => PackedReadings;

/**
 * The size of a block: just above the largest that glibc's allocator keeps for itself once it is freed (32 MiB; see
 * mallopt(3), M_MMAP_THRESHOLD). Pages of a block that were never written to cost nothing.
 */
const BLOCK_BYTES = 33 * 2 ** 20;

/**
 * Keeps readings side by side in few large blocks. Thousands of smaller arrays, one for each signal and file, leave the
 * process as large after they are dropped as before. Where the exports (`exportBytes`, on disk) are not larger
 * than one block nothing is copied.
 */
export function makeReadingStore(exportBytes: number): KeepReadings {
  if (exportBytes <= BLOCK_BYTES) return (packed) => packed;
  let block = new ArrayBuffer(0);
  let at = 0;

  const taken = (bytes: number): readonly [ArrayBuffer, number] => {
    if (bytes > block.byteLength - at) {
      block = new ArrayBuffer(Math.max(BLOCK_BYTES, bytes));
      at = 0;
    }
    const from = at;
    // The next may hold doubles, which must begin at a multiple of eight.
    at = Math.ceil((at + bytes) / 8) * 8;
    return [block, from];
  };

  return (packed) => {
    const bytes = new Uint8Array(...taken(packed.bytes.byteLength), packed.bytes.length);
    bytes.set(packed.bytes);
    const marks = new Float64Array(...taken(packed.marks.byteLength), packed.marks.length);
    marks.set(packed.marks);
    return { ...packed, bytes, marks };
  };
}
