import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { lstat, readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { errorCode } from "./error-code.js";

/** The file in which a result says what it is of, and how each of its files was written: the next run replaces it only if that is still so. */
export const WRITTEN_LIST = ".written.json";
/** Far larger than any list of ours. */
const LARGEST_LIST_BYTES = 1_000_000;
/** As many names as a message holds. */
const SHOWN_NAMES = 5;

const listSchema = z.object({
  schema: z.literal("keyworthy.written/1"),
  result: z.enum(["audit", "redacted", "fleet", "scenario"]),
  sites: z.array(z.string()),
  period: z.nullable(z.string()),
  files: z.record(z.string(), z.string()),
});
type WrittenList = z.infer<typeof listSchema>;

/** What a result is of. A redacted one tells neither site nor period; `period` null: of none, or not known yet. */
export interface ResultOf {
  readonly result: WrittenList["result"];
  readonly sites: readonly string[];
  readonly period: string | null;
  /** Files in it that a person may change, and that are looked after elsewhere. */
  readonly mayChange?: readonly string[];
}

/** The list as it is written; `files`: SHA-256 of each file, by its path in the folder. */
export function writtenListText({ result, sites, period }: ResultOf, files: ReadonlyMap<string, string>): string {
  const list: WrittenList = { schema: "keyworthy.written/1", result, sites: [...sites], period, files: Object.fromEntries([...files].toSorted(([a], [b]) => (a < b ? -1 : 1))) };
  return `${JSON.stringify(list, null, 2)}\n`;
}

/**
 * Throws `InputError` unless `target` may be replaced by a new result: it is missing, or empty, or holds a result of the same, with
 * nothing in it that Keyworthy did not write, and nothing that was changed since. `period` null is not compared.
 */
export async function refuseForeign(target: string, of: ResultOf): Promise<void> {
  const names = await filesBelow(target);
  if (names.length === 0) return;
  const list = await listIn(target);
  if (list === null) throw refused(target, "The output folder holds files, and nothing says that Keyworthy wrote them; it would be replaced as a whole", "an empty or new folder, or an earlier result as it was written", namesText(names), `${MOVE}, or name another folder with --out`);
  if (!isSame(list, of)) throw refused(target, "The output folder holds another result", ofText(of), ofText(list), "name another folder with --out");
  const strangers = names.filter((name) => name !== WRITTEN_LIST && list.files[name] === undefined);
  if (strangers.length > 0) throw refused(target, "The output folder holds files that Keyworthy did not write, and it would be replaced as a whole", "an empty or new folder, or an earlier result", namesText(strangers), "name another folder with --out");
  const changed: string[] = [];
  for (const name of names) {
    if (name === WRITTEN_LIST || of.mayChange?.includes(name) === true) continue;
    if ((await digestOf(join(target, name))) !== list.files[name]) changed.push(name);
  }
  if (changed.length > 0) throw refused(target, "The earlier result was changed since Keyworthy wrote it, and it would be replaced as a whole", "files as they were written", `${namesText(changed)} changed`, `${MOVE}, or name another folder with --out`);
}

const MOVE = "move what is yours elsewhere and delete the rest";

/** The site names of a result in `folder`; empty: none, or nobody can tell. */
export async function sitesOfResult(folder: string): Promise<readonly string[]> {
  return (await listIn(folder))?.sites ?? [];
}

/** Paths of all files in a folder and below it, links and the like among them; a folder within counts if it is empty. */
async function filesBelow(target: string): Promise<string[]> {
  const found = await lstat(target).catch((error: unknown) => {
    if (errorCode(error) === "ENOENT") return null;
    if (errorCode(error) === "ENOTDIR") throw isFile(target);
    throw error;
  });
  if (found === null) return [];
  if (found.isSymbolicLink()) throw refused(target, "The output folder is a link, which would be replaced", "a folder", "a link", "name the folder it leads to with --out");
  if (!found.isDirectory()) throw isFile(target);
  const names: string[] = [];
  const visit = async (below: string): Promise<void> => {
    const entries = await readdir(join(target, below), { withFileTypes: true });
    if (entries.length === 0 && below !== "") names.push(below);
    for (const entry of entries) {
      const name = below === "" ? entry.name : `${below}/${entry.name}`;
      if (entry.isDirectory()) await visit(name);
      else names.push(name);
    }
  };
  await visit("");
  return names.toSorted();
}

async function listIn(folder: string): Promise<WrittenList | null> {
  const path = join(folder, WRITTEN_LIST);
  const found = await lstat(path).catch(() => null);
  if (found?.isFile() !== true || found.size > LARGEST_LIST_BYTES) return null;
  try {
    return listSchema.parse(JSON.parse(await readFile(path, "utf8")));
  } catch {
    return null;
  }
}

/** A fleet result is of the same if it shares a site: it grows by months and by sites. */
function isSame(list: WrittenList, of: ResultOf): boolean {
  if (list.result !== of.result) return false;
  const shared = of.sites.filter((site) => list.sites.includes(site)).length;
  if (of.result === "fleet") return shared > 0;
  return shared === of.sites.length && shared === list.sites.length && (of.period === null || list.period === of.period);
}

function ofText({ result, sites, period }: ResultOf): string {
  const names = sites.slice(0, SHOWN_NAMES).map((name) => `"${name}"`).join(", ") + (sites.length > SHOWN_NAMES ? " and others" : "");
  switch (result) {
    case "redacted":
      return "a result made for sharing";
    case "fleet":
      return `a comparison of ${names}`;
    case "scenario":
      return `the invented site ${names}`;
    case "audit":
      return `the result of ${names}${period === null ? "" : ` for ${period}`}`;
  }
}

/** SHA-256 of a file; of anything else a text that is none. */
async function digestOf(path: string): Promise<string> {
  if (!(await lstat(path)).isFile()) return "no file";
  const hash = createHash("sha256");
  for await (const chunk of createReadStream(path)) hash.update(chunk as Buffer);
  return hash.digest("hex");
}

function isFile(target: string): InputError {
  return new InputError([{ code: "output-exists", what: "The output folder is a file", file: target, mend: "name another folder with --out" }]);
}

function namesText(names: readonly string[]): string {
  return names.slice(0, SHOWN_NAMES).join(", ") + (names.length > SHOWN_NAMES ? ` and ${names.length - SHOWN_NAMES} more` : "");
}

function refused(file: string, what: string, expected: string, found: string, mend: string): InputError {
  const parts: ProblemParts = { code: "output-exists", what, file, expected, found, mend };
  return new InputError([parts]);
}
