import { randomBytes } from "node:crypto";
import { existsSync, readdirSync, renameSync, rmdirSync, rmSync } from "node:fs";
import { readdir, readFile, rename, rm, stat, writeFile } from "node:fs/promises";
import { hostname } from "node:os";
import { basename, dirname, join } from "node:path";
import { getEnvironmentData, setEnvironmentData } from "node:worker_threads";
import { errorCode } from "./error-code.js";
import { WRITTEN_LIST } from "./written-list.js";

/*
 * A killed run leaves an unfinished folder, and in it a record of when nobody was home. The folder's name contains the
 * process that made it, so that the next run in the same place can tell whether that process is still at work. A note beside
 * the site file says where the folder is, for a next run that writes elsewhere.
 */
const PREFIX = ".keyworthy-making-";
/** A note names a place where somebody lives. */
const PRIVATE_FILE = 0o600;
/** No path is longer. */
const LONGEST_NOTE_BYTES = 4096;

/** What the threads of one process know it by. */
const TOKEN_KEY = "keyworthy unfinished folders";

/**
 * Distinguishes this process from a dead one with the same number. Its threads, each with a copy of this module, share it:
 * else one would sweep away what another is making.
 */
const token = tokenOfProcess();

function tokenOfProcess(): string {
  const known = getEnvironmentData(TOKEN_KEY);
  if (typeof known === "string") return known;
  const made = randomBytes(4).toString("hex");
  setEnvironmentData(TOKEN_KEY, made);
  return made;
}

/** What this process has begun and not finished: paths to remove, and where missing folders were made for them. */
const begun = new Map<string, { readonly firstMade: string | undefined }>();

/** The beginning of an unfinished folder's name: host and process. */
export function makingPrefix(): string {
  return `${PREFIX}${hostText()}-${process.pid}-${token}-`;
}

/** A name for one unfinished file or folder. */
export function makingName(): string {
  return `${makingPrefix()}${randomBytes(3).toString("hex")}`;
}

/**
 * Remembers an unfinished file or folder, so that {@link removeBegun} finds it; returns what forgets it. `firstMade`: the outermost
 * folder that was made for it.
 */
export function remember(path: string, firstMade?: string): () => void {
  begun.set(path, { firstMade });
  return () => void begun.delete(path);
}

/**
 * Removes everything that this process has begun and not finished, at once: a signal ends the program. An earlier result that had
 * stepped aside goes back.
 */
export function removeBegun(): void {
  for (const [path, { firstMade }] of begun) {
    const parent = dirname(path);
    try {
      for (const name of readdirSync(parent)) {
        const before = name.startsWith(`${basename(path)}-before-`) ? unfinished.exec(name)?.[4] : undefined;
        const place = before === undefined ? null : join(parent, before);
        if (place !== null && !existsSync(place)) renameSync(join(parent, name), place);
        else if (place !== null || name === basename(path)) rmSync(join(parent, name), { recursive: true, force: true, maxRetries: 5, retryDelay: 20 });
      }
      if (firstMade !== undefined) for (let folder = parent; folder.startsWith(firstMade); folder = dirname(folder)) rmdirSync(folder);
    } catch {
      // The next run in this place tries again.
    }
  }
  begun.clear();
}

/** Whether a name that {@link makingName} gave is of this host, and of a process that has ended. Of other hosts nobody can tell. */
export function makerHasEnded(name: string): boolean {
  const [, host, processId, ofToken = ""] = unfinished.exec(name) ?? [];
  return host === hostText() && !isAlive(Number(processId), ofToken);
}

/** Where an earlier result waits while the new one takes its place. Its name is part of this one. */
export function asideOf(making: string, target: string): string {
  return `${making}-before-${basename(target)}`;
}

/**
 * Removes what killed runs on this host left in `parent`. An earlier result that a killed run had moved aside goes back if
 * its place is free, and stays where that was taken by something of somebody's. Folders of other hosts stay: nobody can tell from here whether their runs are alive.
 */
export async function sweepUnfinished(parent: string): Promise<void> {
  for (const name of await readdir(parent)) {
    const match = unfinished.exec(name);
    if (match === null) continue;
    if (!makerHasEnded(name)) continue;
    const before = match[4];
    const place = before === undefined ? null : join(parent, before);
    if (place !== null && !(await exists(place))) await rename(join(parent, name), place).catch(() => undefined);
    // In its place stands what took it; anything else came from somebody, and the earlier result may be the only one, with answers in it.
    else if (place === null || (await exists(join(place, WRITTEN_LIST)))) await rm(join(parent, name), { recursive: true, force: true });
  }
}

/**
 * Notes beside a site file (in `folder`) that an unfinished folder will be in `parent`; returns what takes the note away. Where nothing can be
 * written beside the site file there is no note.
 */
export async function noteUnfinished(folder: string, parent: string): Promise<() => Promise<void>> {
  const path = join(folder, makingName());
  const forget = remember(path);
  await writeFile(path, parent, { mode: PRIVATE_FILE, flag: "wx" }).catch(() => undefined);
  return async () => {
    await rm(path, { force: true }).catch(() => undefined);
    forget();
  };
}

/** Removes what killed runs of the sites in `folder` left, wherever they wrote: their notes say where. */
export async function sweepNoted(folder: string): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    if (!makerHasEnded(name)) continue;
    const path = join(folder, name);
    const { size, isNote } = await stat(path).then((found) => ({ size: found.size, isNote: found.isFile() }), () => ({ size: 0, isNote: false }));
    if (!isNote || size > LONGEST_NOTE_BYTES) continue;
    const parent = await readFile(path, "utf8").catch(() => "");
    // Only what carries the name of an unfinished folder of a dead process is removed, whatever the note says.
    if (parent !== "") await sweepUnfinished(parent).catch(() => undefined);
    await rm(path, { force: true }).catch(() => undefined);
  }
}

const unfinished = /^\.keyworthy-making-(.+?)-(\d+)-([0-9a-f]{8})-[A-Za-z0-9]{6}(?:-before-(.+))?$/;

function isAlive(processId: number, ofToken: string): boolean {
  if (processId === process.pid) return ofToken === token;
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    // The process exists but belongs to another user.
    return errorCode(error) === "EPERM";
  }
}

function hostText(): string {
  return hostname().replace(/[^A-Za-z0-9.]/g, "_");
}

async function exists(path: string): Promise<boolean> {
  return stat(path).then(
    () => true,
    () => false,
  );
}
