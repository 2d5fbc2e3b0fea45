import { constants } from "node:fs";
import { open, type FileHandle } from "node:fs/promises";
import { InputError } from "./problem.js";

const CHUNK_BYTES = 1_048_576;

/** How a small file is called, for messages, and how large it may be. */
export interface SmallFile {
  /** As it was named. */
  readonly name: string;
  /** What it should be: `a site file`. */
  readonly expected: string;
  readonly mostBytes: number;
}

/**
 * The bytes of a file that is read whole: a site file, findings, counts. Type and size are looked at before a byte is read, as a pipe without a
 * writer would never end and a device would fill the memory. Throws `InputError` (`file-binary`) for anything but a file of at most
 * `mostBytes`, and the system's error if it cannot be opened.
 */
export async function readSmallFile(path: string, { name, expected, mostBytes }: SmallFile): Promise<Buffer> {
  // Without waiting: opening a pipe would wait for somebody to write into it.
  const handle = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK as number | undefined ?? 0));
  try {
    const found = await handle.stat();
    const refused = (what: string, is: string): InputError => new InputError([{ code: "file-binary", what, file: name, expected, found: is, mend: "check the path" }]);
    if (found.isDirectory()) throw Object.assign(new Error("it is a folder"), { code: "EISDIR" });
    if (!found.isFile()) throw refused("This is no file, and is not read", found.isFIFO() ? "a pipe" : found.isSocket() ? "a socket" : "a device");
    const bytes = found.size > mostBytes ? null : await bytesOf(handle, mostBytes);
    if (bytes === null) throw refused(`The file is too large for ${expected}, and is not read`, `more than ${(mostBytes / 1_000_000).toLocaleString("en-GB", { maximumFractionDigits: 0 })} MB`);
    return bytes;
  } finally {
    await handle.close();
  }
}

/** Null where there is more than may be: a file of the system may say that it is empty, and never end. */
async function bytesOf(handle: FileHandle, mostBytes: number): Promise<Buffer | null> {
  const chunks: Buffer[] = [];
  let length = 0;
  for (;;) {
    const { bytesRead, buffer } = await handle.read(Buffer.allocUnsafe(CHUNK_BYTES), 0, CHUNK_BYTES);
    if (bytesRead === 0) return Buffer.concat(chunks, length);
    length += bytesRead;
    if (length > mostBytes) return null;
    chunks.push(bytesRead === CHUNK_BYTES ? buffer : buffer.subarray(0, bytesRead));
  }
}
