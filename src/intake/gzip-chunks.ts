import { createGunzip, type Gunzip } from "node:zlib";

/** Unpacked at a time: 16 MB at most come of it. */
const PACKED_BYTES = 16_384;

/**
 * Unpacks gzip (also several members one after another). Gives everything that can be unpacked before it reports a
 * problem: at a cut it calls `onCutOff` and ends; without `onCutOff`, and for damaged data, it throws zlib's error.
 * Don't use what damaged data gave before the error: nobody knows where the damage begins.
 */
export async function* gunzipChunks(packed: AsyncIterable<Buffer>, chunkBytes: number, onCutOff: (() => void) | null): AsyncGenerator<Buffer> {
  const gunzip = createGunzip({ chunkSize: chunkBytes });
  const ready: Buffer[] = [];
  let failure = null as Error | null;
  // A listener rather than an iterator: an iterator would drop what was unpacked just before an error.
  gunzip.on("data", (chunk: Buffer) => ready.push(chunk));
  gunzip.on("error", (error: Error) => (failure = error));
  try {
    for await (const chunk of packed) {
      // A little at a time: what is unpacked meanwhile is held, and may be a thousand times as much.
      for (let at = 0; at < chunk.length && failure === null; at += PACKED_BYTES) {
        await written(gunzip, chunk.subarray(at, at + PACKED_BYTES));
        yield* ready.splice(0);
      }
      if (failure !== null) break;
    }
    if (failure === null) await ended(gunzip);
    yield* ready.splice(0);
    if (failure === null) return;
    if (onCutOff === null || (failure as NodeJS.ErrnoException).code !== "Z_BUF_ERROR") throw failure;
    onCutOff();
  } finally {
    gunzip.destroy();
  }
}

/** Resolves when the chunk has been unpacked, or cannot be. */
function written(gunzip: Gunzip, chunk: Buffer): Promise<void> {
  return new Promise((resolve) => {
    const done = (): void => {
      gunzip.off("error", done);
      resolve();
    };
    gunzip.once("error", done);
    gunzip.write(chunk, done);
  });
}

function ended(gunzip: Gunzip): Promise<void> {
  return new Promise((resolve) => {
    gunzip.once("end", resolve);
    gunzip.once("error", () => {
      resolve();
    });
    gunzip.end();
  });
}
