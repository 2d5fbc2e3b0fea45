import { chmod, mkdir, mkdtemp, open, readdir, rename, rm, rmdir, utimes } from "node:fs/promises";
import { createWriteStream, type WriteStream } from "node:fs";
import { finished } from "node:stream/promises";
import { dirname, join } from "node:path";
import { InputError } from "../ground/problem.js";
import { errorCode } from "./error-code.js";
import { asideOf, makingPrefix, sweepUnfinished } from "./unfinished.js";

/** Only the owner may read and write: these files say when nobody is home. */
const PRIVATE_FILE = 0o600;
const PRIVATE_FOLDER = 0o700;

/** A folder being written. Nothing is visible at its final place before `finish`; `abandon` removes every trace. */
export interface WholeFolder {
  /** Writes one complete file, and makes missing subfolders. */
  readonly write: (name: string, content: string | Uint8Array) => Promise<void>;
  /** Opens a file to be written piece by piece. */
  readonly openLines: (name: string) => { readonly add: (text: string) => void };
  /**
   * Flushes everything to disk and moves the folder to `target`, a child of the parent it was begun in, in one rename.
   * Replaces an earlier folder there if `refuseStrangers` accepts it. `changedAt` (epoch milliseconds): when the folder and
   * its files are to have been changed last; left out: now.
   */
  readonly finish: (target: string, ours: readonly string[], changedAt?: number) => Promise<void>;
  readonly abandon: () => Promise<void>;
}

/** Begins a folder beside its final place, so that the rename stays on one file system. */
export async function beginWholeFolder(parent: string): Promise<WholeFolder> {
  const { firstMade, making } = await makeBeside(parent);
  await chmod(making, PRIVATE_FOLDER);
  const streams: WriteStream[] = [];
  return {
    async write(name, content) {
      const path = join(making, name);
      await mkdir(dirname(path), { recursive: true, mode: PRIVATE_FOLDER });
      const file = await open(path, "wx", PRIVATE_FILE);
      try {
        await file.writeFile(content);
        await file.sync();
      } finally {
        await file.close();
      }
    },
    openLines(name) {
      const stream = createWriteStream(join(making, name), { mode: PRIVATE_FILE, flags: "wx" });
      // `finish` reports a failed write; without a listener the error would end the process.
      stream.on("error", () => undefined);
      streams.push(stream);
      return { add: (text) => void stream.write(text) };
    },
    async finish(target, ours, changedAt) {
      for (const stream of streams) {
        stream.end();
        await finished(stream);
      }
      await refuseStrangers(target, ours);
      if (changedAt !== undefined) await stampAll(making, new Date(changedAt));
      await replaceFolder(making, target);
    },
    async abandon() {
      for (const stream of streams) {
        stream.destroy();
        // Not `events.once`: it rejects when a stream is destroyed during a write, which is intended here.
        if (!stream.closed) await new Promise<void>((closed) => void stream.once("close", closed));
      }
      await rm(making, { recursive: true, force: true });
      if (firstMade !== undefined) await removeIfEmpty(parent, firstMade);
    },
  };
}

/** Makes a folder in `parent`, and `parent` if it is missing. Throws `InputError` where nothing may be written. */
async function makeBeside(parent: string): Promise<{ readonly firstMade: string | undefined; readonly making: string }> {
  try {
    const firstMade = await mkdir(parent, { recursive: true, mode: PRIVATE_FOLDER });
    await sweepUnfinished(parent);
    return { firstMade, making: await mkdtemp(join(parent, makingPrefix())) };
  } catch (error) {
    const code = errorCode(error);
    if (code === null) throw error;
    throw new InputError([{ code: "output-exists", what: "No folder for the result can be made here", file: parent, expected: "a place that you may write to", found: code, mend: "name another folder with --out" }]);
  }
}

/**
 * Throws `InputError` if `target` holds anything not named in `ours`: replacing the folder would delete somebody's files.
 */
export async function refuseStrangers(target: string, ours: readonly string[]): Promise<void> {
  const strangers = (await entries(target)).filter((name) => !ours.includes(name));
  if (strangers.length === 0) return;
  throw new InputError([
    {
      code: "output-exists",
      what: "The output folder holds files that Keyworthy did not write, and it would be replaced as a whole",
      file: target,
      expected: "an empty or new folder, or an earlier result",
      found: strangers.slice(0, 5).join(", "),
      mend: "name another folder with --out",
    },
  ]);
}

/** Sets when a folder, and all that is in it, was last changed and read. */
async function stampAll(folder: string, at: Date): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) await stampAll(path, at);
    else await utimes(path, at, at);
  }
  await utimes(folder, at, at);
}

/** Moves the old result aside for the rename, and back if the rename fails. */
async function replaceFolder(making: string, target: string): Promise<void> {
  const aside = asideOf(making, target);
  const had = await rename(target, aside).then(
    () => true,
    (error: unknown) => {
      if (isMissing(error)) return false;
      throw error;
    },
  );
  try {
    await rename(making, target);
  } catch (error) {
    if (had) await rename(aside, target);
    throw error;
  }
  if (had) await rm(aside, { recursive: true, force: true });
}

/** Removes the folders made for an abandoned result, from `parent` up to `firstMade`, as long as they are empty. */
async function removeIfEmpty(parent: string, firstMade: string): Promise<void> {
  for (let folder = parent; folder.startsWith(firstMade); folder = dirname(folder)) {
    try {
      await rmdir(folder);
    } catch {
      return;
    }
  }
}

async function entries(folder: string): Promise<string[]> {
  try {
    return await readdir(folder);
  } catch (error) {
    if (isMissing(error)) return [];
    if (errorCode(error) === "ENOTDIR") {
      throw new InputError([{ code: "output-exists", what: "The output folder is a file", file: folder, mend: "name another folder with --out" }]);
    }
    throw error;
  }
}

function isMissing(error: unknown): boolean {
  return errorCode(error) === "ENOENT";
}
