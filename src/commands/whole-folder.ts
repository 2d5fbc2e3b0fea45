import { createHash, type Hash } from "node:crypto";
import { chmod, mkdir, mkdtemp, open, readdir, rename, rm, rmdir, utimes } from "node:fs/promises";
import { createWriteStream, type WriteStream } from "node:fs";
import { finished } from "node:stream/promises";
import { dirname, join } from "node:path";
import { InputError } from "../ground/problem.js";
import { errorCode } from "./error-code.js";
import { isSystemFault } from "./system-fault.js";
import { asideOf, makingPrefix, noteUnfinished, remember, sweepUnfinished } from "./unfinished.js";
import { refuseForeign, WRITTEN_LIST, writtenListText, type ResultOf } from "./written-list.js";

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
   * Adds the list of what was written, flushes everything to disk and moves the folder to `target`, a child of the parent it was begun in, in one rename.
   * Replaces an earlier folder there if `refuseForeign` accepts it. `changedAt` (epoch milliseconds): when the folder and
   * its files are to have been changed last; left out: now.
   */
  readonly finish: (target: string, of: ResultOf, changedAt?: number) => Promise<void>;
  readonly abandon: () => Promise<void>;
}

/** A file that is written piece by piece. */
interface Lines {
  readonly name: string;
  readonly stream: WriteStream;
  readonly hash: Hash;
}

/**
 * Begins a folder beside its final place, so that the rename stays on one file system. `notedIn`: the folder of the site file it is of, in which a
 * note says where the unfinished folder is.
 */
export async function beginWholeFolder(parent: string, notedIn: string | null = null): Promise<WholeFolder> {
  const takeNoteAway = notedIn === null ? () => Promise.resolve() : await noteUnfinished(notedIn, parent);
  const { firstMade, making } = await makeBeside(parent).catch(async (error: unknown) => {
    await takeNoteAway();
    throw error;
  });
  const forget = remember(making, firstMade);
  await chmod(making, PRIVATE_FOLDER);
  const lines: Lines[] = [];
  const digests = new Map<string, string>();
  const write = async (name: string, content: string | Uint8Array): Promise<void> => {
    const path = join(making, name);
    await saying(path, async () => {
      await mkdir(dirname(path), { recursive: true, mode: PRIVATE_FOLDER });
      const file = await open(path, "wx", PRIVATE_FILE);
      try {
        await file.writeFile(content);
        await file.sync();
      } finally {
        await file.close();
      }
    });
    digests.set(name, createHash("sha256").update(content).digest("hex"));
  };
  return {
    write,
    openLines(name) {
      const stream = createWriteStream(join(making, name), { mode: PRIVATE_FILE, flags: "wx" });
      // `finish` reports a failed write; without a listener the error would end the process.
      stream.on("error", () => undefined);
      const hash = createHash("sha256");
      lines.push({ name, stream, hash });
      return {
        add(text) {
          hash.update(text);
          stream.write(text);
        },
      };
    },
    async finish(target, of, changedAt) {
      for (const { name, stream, hash } of lines) {
        stream.end();
        await saying(join(making, name), () => finished(stream));
        digests.set(name, hash.digest("hex"));
      }
      await write(WRITTEN_LIST, writtenListText(of, digests));
      await refuseForeign(target, of);
      if (changedAt !== undefined) await stampAll(making, new Date(changedAt));
      await replaceFolder(making, target, of);
      forget();
      await takeNoteAway();
    },
    async abandon() {
      for (const { stream } of lines) {
        stream.destroy();
        // Not `events.once`: it rejects when a stream is destroyed during a write, which is intended here.
        if (!stream.closed) await new Promise<void>((closed) => void stream.once("close", closed));
      }
      await rm(making, { recursive: true, force: true });
      if (firstMade !== undefined) await removeIfEmpty(parent, firstMade);
      forget();
      await takeNoteAway();
    },
  };
}

/** Says which file it was, of an error of the system that does not: a failed write knows only its number. */
async function saying<Value>(path: string, work: () => Promise<Value>): Promise<Value> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof Error && errorCode(error) !== null && !("path" in error)) Object.assign(error, { path });
    throw error;
  }
}

/** Whoever gives up takes away the folder that was made for it, if it is empty; by then another may have found it there. As often as this is more than bad luck. */
const MOST_TRIES = 20;

/** Makes a folder in `parent`, and `parent` if it is missing. Throws `InputError` where nothing may be written. */
async function makeBeside(parent: string, tries = MOST_TRIES): Promise<{ readonly firstMade: string | undefined; readonly making: string }> {
  try {
    const firstMade = await mkdir(parent, { recursive: true, mode: PRIVATE_FOLDER });
    await sweepUnfinished(parent);
    return { firstMade, making: await mkdtemp(join(parent, makingPrefix())) };
  } catch (error) {
    const code = errorCode(error);
    if (code === "ENOENT" && tries > 1) return makeBeside(parent, tries - 1);
    if (code === null || isSystemFault(error)) throw error;
    throw new InputError([{ code: "output-exists", what: "No folder for the result can be made here", file: parent, expected: "a place that you may write to", found: code, mend: "name another folder with --out" }]);
  }
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

/** Moves the old result aside for the rename, and back if the rename fails or somebody has just put something into it. */
async function replaceFolder(making: string, target: string, of: ResultOf): Promise<void> {
  const aside = asideOf(making, target);
  const had = await rename(target, aside).then(
    () => true,
    (error: unknown) => {
      if (errorCode(error) === "ENOENT") return false;
      throw error;
    },
  );
  try {
    if (had) await refuseForeign(aside, of);
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
