import { randomBytes } from "node:crypto";
import { readdir, rename, rm, stat } from "node:fs/promises";
import { hostname } from "node:os";
import { basename, join } from "node:path";
import { getEnvironmentData, setEnvironmentData } from "node:worker_threads";
import { errorCode } from "./error-code.js";

/*
 * A killed run leaves an unfinished folder, and in it a record of when nobody was home. The folder's name contains the
 * process that made it, so that the next run in the same place can tell whether that process is still at work.
 */
const PREFIX = ".keyworthy-making-";

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

/** The beginning of an unfinished folder's name: host and process. */
export function makingPrefix(): string {
  return `${PREFIX}${hostText()}-${process.pid}-${token}-`;
}

/** A name for one unfinished file or folder. */
export function makingName(): string {
  return `${makingPrefix()}${randomBytes(3).toString("hex")}`;
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
 * its place is free. Folders of other hosts stay: nobody can tell from here whether their runs are alive.
 */
export async function sweepUnfinished(parent: string): Promise<void> {
  for (const name of await readdir(parent)) {
    const match = unfinished.exec(name);
    if (match === null) continue;
    if (!makerHasEnded(name)) continue;
    const before = match[4];
    const place = before === undefined ? null : join(parent, before);
    if (place !== null && !(await exists(place))) await rename(join(parent, name), place).catch(() => undefined);
    else await rm(join(parent, name), { recursive: true, force: true });
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
