import { realpath } from "node:fs/promises";
import { join, relative, resolve, sep } from "node:path";
import { parse } from "csv-parse/sync";
import { csvText } from "../ground/csv-text.js";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { readSmallFile } from "../ground/small-file.js";
import { diaryColumns } from "../intake/diary.js";
import { findFiles } from "../intake/files.js";
import type { Site } from "../site/site.js";
import { asPeopleSaveIt } from "./csv-options.js";
import { oneLine } from "./one-line.js";

/** The file of a result that a person fills in. */
export const TO_CONFIRM_FILE = "to-confirm.csv";

/** Far larger than any of ours. */
const LARGEST_TO_CONFIRM_BYTES = 64_000_000;

/** Columns we fill ourselves, in this version or an earlier one; what stands in others somebody wrote. */
const ourColumns = ["subject", "from", "to", "words", "question", "moves"];

/** A to-confirm.csv in which somebody wrote. */
export interface KeptAnswers {
  /** The file as it stands. */
  readonly bytes: Buffer;
  readonly header: readonly string[];
  /** The rows with something of a person in them, as they stand. */
  readonly rows: readonly (readonly string[])[];
}

/**
 * What a person wrote into the to-confirm.csv of an earlier result; null: nothing. Throws `InputError` if the file cannot be read
 * as what we wrote: it may hold answers, and they must not be lost.
 */
export async function keptAnswers(folder: string): Promise<KeptAnswers | null> {
  const path = join(folder, TO_CONFIRM_FILE);
  const bytes = await readSmallFile(path, { name: path, expected: `the ${TO_CONFIRM_FILE} of an audit`, mostBytes: LARGEST_TO_CONFIRM_BYTES }).catch((error: unknown) => {
    // What is no file, or larger than any of ours, is somebody's: it must not be lost.
    if (error instanceof InputError) throw error;
    return null;
  });
  if (bytes === null || bytes.length === 0) return null;
  const [first = [], ...rows] = rowsOf(bytes);
  const header = first.map((cell) => cell.trim());
  if (!diaryColumns.every((column) => header.includes(column))) {
    throw new InputError([
      {
        code: "output-exists", what: `The ${TO_CONFIRM_FILE} of the earlier result is not as it was written, and may hold answers of yours that would be lost`, file: path,
        expected: "commas between subject, state, from and to; UTF-8", found: first.slice(0, 10).join(",").slice(0, 100), mend: "move the file elsewhere, or name another folder with --out",
      },
    ]);
  }
  const filled = rows.filter((row) => row.some((cell, i) => cell.trim() !== "" && !ourColumns.includes(header[i] ?? "")));
  return filled.length === 0 ? null : { bytes, header, rows: filled };
}

function rowsOf(bytes: Buffer): string[][] {
  try {
    return parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes), asPeopleSaveIt);
  } catch {
    return [];
  }
}

/** A new to-confirm.csv with the kept rows first, as they stood. Rows that ask the same once more are left out. */
export function withKeptAnswers(csv: string, kept: KeptAnswers | null): string {
  if (kept === null) return csv;
  const [header = [], ...rows]: string[][] = parse(csv, asPeopleSaveIt);
  const columns = [...header, ...kept.header.filter((column) => !header.includes(column))];
  const inColumns = (own: readonly string[]) => (row: readonly string[]): string[] => columns.map((column) => row[own.indexOf(column)] ?? "");
  const asked = (row: readonly string[]): string => JSON.stringify(["subject", "from", "to"].map((column) => row[columns.indexOf(column)]));
  const first = kept.rows.map(inColumns(kept.header));
  const answered = new Set(first.map(asked));
  return csvText(columns, [...first, ...rows.map(inColumns(header)).filter((row) => !answered.has(asked(row)))]);
}

/** What the user is told of rows that were kept. */
export function keptText(kept: KeptAnswers, file: string): string {
  const rows = kept.rows.length === 1 ? "1 row that you filled in stands" : `${kept.rows.length} rows that you filled in stand`;
  return `${oneLine(file)}: ${rows} first in the new file, as before. For the audit to use them, copy the file beside the site file and name it under \`diary\`.\n`;
}

/** Where the diaries of a site lie. */
export type Diaries = Pick<Site, "file" | "folder" | "diary">;

/** Throws `InputError` if a diary of these sites lies in the folder that a result would replace. */
export async function refuseDiaryInside(target: string, sites: readonly Diaries[]): Promise<void> {
  const problems: ProblemParts[] = [];
  for (const site of sites) {
    for (const { path, name } of await findFiles(site.diary, site.folder, "the diary", [])) {
      if (!isInside(path, resolve(target)) && !isInside(await realPath(path), await realPath(target))) continue;
      problems.push({
        code: "output-exists", what: `The diary ${name} lies in the folder that this result would replace`, file: site.file, expected: "a diary outside of the results", found: `the output folder ${relative(site.folder, target)}`,
        mend: `copy ${name} beside the site file, such as to diary.csv, and name that under \`diary\``,
      });
    }
  }
  if (problems.length > 0) throw new InputError(problems);
}

function isInside(path: string, folder: string): boolean {
  return path.startsWith(folder + sep);
}

async function realPath(path: string): Promise<string> {
  return realpath(path).catch(() => resolve(path));
}
