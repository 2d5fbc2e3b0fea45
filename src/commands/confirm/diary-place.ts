import { constants } from "node:fs";
import { access, mkdir, readFile } from "node:fs/promises";
import { basename, dirname, join, resolve } from "node:path";
import { InputError } from "../../ground/problem.js";
import { findFiles } from "../../intake/files.js";
import type { Site } from "../../site/site.js";
import { changeFile } from "../change-file.js";
import { withRows, type Writing } from "./diary-text.js";
import { diaryLine, withDiaryLine } from "./site-line.js";

/** The file that answers go to. */
export interface DiaryPlace {
  readonly path: string;
  /** As it is called in the site file: relative to its folder. */
  readonly name: string;
  /** What of the site's diary can be read now, as the site file names it: a diary that is not there yet is left out. */
  readonly readable: readonly string[];
  /** Something the user should know about this choice; null: it is the obvious one. */
  readonly remark: string | null;
  /** Makes the file, and the line of the site file that names it, where they are missing. */
  readonly prepare: (writing: Writing) => Promise<void>;
}

/**
 * Where a site's answers go. Of several diary files: the last (by name) that may be written and is not packed. Of a pattern
 * without such a file: a new one that fits it. Without a diary: a new file beside the site file, which gets the line that names it.
 * Touches nothing yet. Throws `InputError` where there is no such place, saying how to make one.
 */
export async function findDiaryPlace(site: Site): Promise<DiaryPlace> {
  if (site.diary.length === 0) return besideSiteFile(site);
  const readable: string[] = [];
  const found: { readonly path: string; readonly name: string }[] = [];
  for (const pattern of site.diary) {
    const files = await findFiles([pattern], site.folder, "the diary", []);
    // A folder where a file should be is left to whoever reads the diary: it says so.
    if (files.length > 0 || (await exists(resolve(site.folder, pattern)))) readable.push(pattern);
    found.push(...files);
  }
  const files = found.filter(({ path }, i) => found.findIndex((other) => other.path === path) === i).sort((a, b) => (a.name < b.name ? -1 : 1));
  for (const { path, name } of files.toReversed()) {
    if (isPacked(name) || !(await mayWrite(path))) continue;
    const remark = files.length === 1 ? null : `The diary has ${files.length} files; answers go into ${name}.`;
    return { path, name, readable, remark, prepare: () => Promise.resolve() };
  }
  return newFile(site, files.map(({ name }) => name), readable);
}

/** A new file that some pattern of the site's diary fits. */
async function newFile(site: Site, existing: readonly string[], readable: readonly string[]): Promise<DiaryPlace> {
  const beside = existing.flatMap((name) => [name.replace(/\.gz$/i, ""), join(dirname(name), "answers.csv")]);
  for (const name of [...beside, ...site.diary.map((pattern) => filledIn(pattern))]) {
    const path = resolve(site.folder, name);
    if (isPacked(name) || !site.diary.some((pattern) => fits(pattern, name)) || (await exists(path))) continue;
    const why = existing.length === 0 ? "The diary that the site file names is not there yet" : "No file of the diary can be added to (packed, or not yours to write)";
    return { path, name, readable, remark: `${why}; answers go into a new one, ${name}.`, prepare: (writing) => makeDiary(path, writing) };
  }
  throw new InputError([
    {
      code: "output-exists", what: "Answers can be added to no file of the diary", file: site.file, expected: "a diary file that is not packed (.gz) and that you may write to, or a pattern that a new file fits",
      found: [...existing, ...site.diary].join(", "), mend: "add a file of your own under `diary`, such as `diary: { files: [OLD, answers.csv] }`",
    },
  ]);
}

/** A name that a pattern of stars fits. */
function filledIn(pattern: string): string {
  return pattern.replace(/\*\*\//g, "").replace(/\*+/g, "diary");
}

/** Whether a name fits a path or a pattern of `*`, `**` and `?`; patterns of other signs are not understood here and fit nothing. */
function fits(pattern: string, name: string): boolean {
  if (pattern === name) return true;
  if (/[[\]{}()!\\]/.test(pattern)) return false;
  const source = pattern.split(/(\*\*\/|\*+|\?)/).map((part) => (part === "**/" ? "(?:.*/)?" : part.startsWith("*") ? "[^/]*" : part === "?" ? "[^/]" : part.replace(/[.+^$|]/g, "\\$&")));
  return new RegExp(`^${source.join("")}$`).test(name);
}

async function besideSiteFile(site: Site): Promise<DiaryPlace> {
  const text = await readFile(site.file, "utf8");
  const name = await freeName(site.folder);
  if (withDiaryLine(text, name) === null || !(await mayWrite(site.file))) {
    throw new InputError([{ code: "output-exists", what: "The site file names no diary for your answers, and a line cannot be added to it safely", file: site.file, expected: "a line that names a file for them", found: "none", mend: `write this line into it yourself: ${diaryLine(name)}` }]);
  }
  const path = join(site.folder, name);
  return {
    path,
    name,
    readable: [],
    remark: `The site file names no diary yet; answers go into a new file, ${name}, and the line \`${diaryLine(name)}\` is added to ${basename(site.file)}.`,
    // The diary first: a site file that names a missing diary could not be read.
    async prepare(writing) {
      await makeDiary(path, writing);
      await changeFile(site.file, (content) => {
        const longer = withDiaryLine((content ?? Buffer.alloc(0)).toString("utf8"), name);
        if (longer === null) throw new InputError([{ code: "output-exists", what: "The site file was changed meanwhile, and the line that names the diary cannot be added to it safely", file: site.file, expected: diaryLine(name), found: "another text", mend: "write that line into it yourself, or run this again" }]);
        return Buffer.from(longer);
      });
    },
  };
}

/** `diary.csv`, or the next number if that is somebody's. One that holds a header alone is left from a run that was interrupted. */
async function freeName(folder: string): Promise<string> {
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? "diary.csv" : `diary-${number}.csv`;
    const content = await readFile(join(folder, name)).catch(() => null);
    if (content === null ? !(await exists(join(folder, name))) : content.equals(emptyDiary())) return name;
  }
}

function emptyDiary(): Buffer {
  return withRows(null, [], { file: "", timeZone: "UTC", note: "" });
}

async function makeDiary(path: string, writing: Writing): Promise<void> {
  await mkdir(dirname(path), { recursive: true, mode: 0o700 });
  await changeFile(path, (content) => withRows(content, [], writing));
}

function isPacked(name: string): boolean {
  return name.toLowerCase().endsWith(".gz");
}

async function mayWrite(path: string): Promise<boolean> {
  return access(path, constants.W_OK).then(() => access(dirname(path), constants.W_OK)).then(() => true, () => false);
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(() => true, () => false);
}
