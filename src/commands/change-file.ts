import { link, open, readFile, realpath, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { InputError } from "../ground/problem.js";
import { errorCode } from "./error-code.js";
import { makerHasEnded, makingName, remember, sweepUnfinished } from "./unfinished.js";

/** A file that did not exist before is for its owner alone: a diary says when nobody is home. */
const PRIVATE_FILE = 0o600;
/** A change takes some milliseconds; who holds the lock longer than this hangs. Our own choice. */
const LONGEST_WAIT_MS = 10_000;
const LOOK_AGAIN_MS = 20;

/** What a change found and what it left. */
export interface Changed {
  /** Null: there was no such file. */
  readonly before: Buffer | null;
  readonly after: Buffer;
}

/**
 * Changes one file as a whole: whoever reads it, at any moment and after any interruption, finds the old content or the new.
 * `change` gets what stands there (null: nothing) and gives what shall; it may be asked again if somebody else wrote meanwhile.
 * A link is followed, permissions are kept. Two changes at once wait for one another. Throws `InputError` where the file cannot
 * be written; passes on what `change` throws, with nothing changed.
 */
export async function changeFile(path: string, change: (content: Buffer | null) => Uint8Array, longestWaitMs = LONGEST_WAIT_MS): Promise<Changed> {
  const place = await realpath(path).catch(() => path);
  try {
    const release = await lock(place, longestWaitMs);
    try {
      await sweepUnfinished(dirname(place));
      for (;;) {
        const before = await contentOf(place);
        const after = Buffer.from(change(before));
        if (await replaced(place, before, after)) return { before, after };
      }
    } finally {
      await release();
    }
  } catch (error) {
    const code = errorCode(error);
    if (code === null) throw error;
    throw new InputError([{ code: "output-exists", what: "The file cannot be written", file: path, expected: "a file and a folder that you may write to", found: code, mend: "check the permissions of the file and of its folder, and the space on the disk" }]);
  }
}

/** Puts `after` in place of `before`; false, and nothing done, if something else stands there by now. */
async function replaced(place: string, before: Buffer | null, after: Buffer): Promise<boolean> {
  const making = join(dirname(place), makingName());
  const forget = remember(making);
  try {
    await writeWhole(making, after, before === null ? PRIVATE_FILE : (await stat(place)).mode & 0o7777);
    if (!sameContent(await contentOf(place), before)) return false;
    if (before !== null) await rename(making, place);
    else if (!(await linked(making, place))) return false;
    await syncFolder(dirname(place));
    return true;
  } finally {
    await rm(making, { force: true });
    forget();
  }
}

async function writeWhole(path: string, content: Buffer, mode: number): Promise<void> {
  const file = await open(path, "wx", PRIVATE_FILE);
  try {
    await file.writeFile(content);
    await file.chmod(mode);
    await file.sync();
  } finally {
    await file.close();
  }
}

/** Gives a new file its name, never in place of another; false if the name is taken. */
async function linked(making: string, place: string): Promise<boolean> {
  try {
    await link(making, place);
    return true;
  } catch (error) {
    if (errorCode(error) === "EEXIST") return false;
    // File systems without links have only the rename.
    await rename(making, place);
    return true;
  }
}

/** A rename is on disk only when its folder is. */
async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, "r");
  try {
    // Some file systems refuse this; the file itself is on disk already.
    await handle.sync().catch(() => undefined);
  } finally {
    await handle.close();
  }
}

/** Waits until nobody else changes the file; gives what ends the lock. A lock left by a process that was killed is removed. */
async function lock(place: string, longestWaitMs: number): Promise<() => Promise<void>> {
  const path = join(dirname(place), `.${basename(place)}.keyworthy-lock`);
  const until = Date.now() + longestWaitMs;
  while (!(await lockMade(path))) {
    await removeIfLeft(path);
    if (Date.now() > until) {
      throw new InputError([{ code: "output-exists", what: "Another program has been writing this file for too long", file: place, found: `the lock ${path}`, mend: "end the other `keyworthy confirm`; if none runs, delete the lock" }]);
    }
    await wait(LOOK_AGAIN_MS);
  }
  const forget = remember(path);
  return async () => {
    await rm(path, { force: true });
    forget();
  };
}

async function lockMade(path: string): Promise<boolean> {
  const file = await open(path, "wx", PRIVATE_FILE).catch((error: unknown) => {
    if (errorCode(error) === "EEXIST") return null;
    throw error;
  });
  if (file === null) return false;
  await file.writeFile(makingName()).finally(() => file.close());
  return true;
}

/** Removes the lock of a process that has ended. */
async function removeIfLeft(path: string): Promise<void> {
  const maker = await readFile(path, "utf8").catch(() => null);
  const age = await stat(path).then(({ mtimeMs }) => Date.now() - mtimeMs, () => 0);
  // Killed before it wrote its name, a process leaves an empty lock.
  if (maker === null || !(makerHasEnded(maker) || (maker === "" && age > LONGEST_WAIT_MS / 2))) return;
  const aside = join(dirname(path), makingName());
  if (!(await rename(path, aside).then(() => true, () => false))) return;
  // Another process may have removed it first and made its own: that one goes back.
  if ((await readFile(aside, "utf8")) !== maker) await link(aside, path).catch(() => undefined);
  await rm(aside, { force: true });
}

async function contentOf(path: string): Promise<Buffer | null> {
  return readFile(path).catch((error: unknown) => {
    if (errorCode(error) === "ENOENT") return null;
    throw error;
  });
}

function sameContent(a: Buffer | null, b: Buffer | null): boolean {
  return a === null || b === null ? a === b : a.equals(b);
}
