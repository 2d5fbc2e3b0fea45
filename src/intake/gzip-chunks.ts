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
  let given = 0;
  // A listener rather than an iterator: an iterator would drop what was unpacked just before an error.
  gunzip.on("data", (chunk: Buffer) => ready.push(chunk));
  gunzip.on("error", (error: Error) => (failure = error));
  try {
    for await (const chunk of packed) {
      // A little at a time: what is unpacked meanwhile is held, and may be a thousand times as much.
      for (let at = 0; at < chunk.length && failure === null; at += PACKED_BYTES) {
        const piece = chunk.subarray(at, at + PACKED_BYTES);
        await written(gunzip, piece);
        given += piece.length;
        yield* ready.splice(0);
        if (gunzip.readableEnded && piece.subarray(Math.max(0, piece.length - (given - gunzip.bytesWritten))).some((byte) => byte !== 0)) failure = behindTheEnd();
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

/** Zeros may follow the last member, as gzip has it. Anything else may be a further member whose beginning is damaged: its rows are not lost silently. */
function behindTheEnd(): Error {
  return Object.assign(new Error("behind its end stands something that is not packed with gzip"), { code: "Z_DATA_ERROR" });
}

/**
 * Resolves when the chunk has been unpacked, or cannot be. What comes behind the last member ends the unpacking at once: nobody is
 * told then that the chunk was taken.
 */
function written(gunzip: Gunzip, chunk: Buffer): Promise<void> {
  if (gunzip.readableEnded) return Promise.resolve();
  return new Promise((resolve) => {
    const done = (): void => {
      gunzip.off("error", done).off("end", done).off("close", done);
      resolve();
    };
    gunzip.once("error", done).once("end", done).once("close", done);
    gunzip.write(chunk, done);
  });
}

function ended(gunzip: Gunzip): Promise<void> {
  if (gunzip.readableEnded) return Promise.resolve();
  return new Promise((resolve) => {
    const done = (): void => {
      resolve();
    };
    gunzip.once("end", done).once("error", done).once("close", done);
    gunzip.end();
  });
}
