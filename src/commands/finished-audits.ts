import { readdir } from "node:fs/promises";
import { join, relative } from "node:path";
import { COUNTS_SCHEMA, countsSchema, type Counts } from "../result/counts.js";
import { InputError, problem, type Problem } from "../ground/problem.js";
import { readSmallFile } from "../ground/small-file.js";
import { decoded } from "../result/json-text.js";

/** The file of a finished audit that comparisons read. */
export const COUNTS_FILE = "counts.json";
/** A folder with one of these files holds, or should hold, a finished audit. */
const marks = [COUNTS_FILE, "findings.json"];
/** Far larger than the counts of any audit. */
const LARGEST_COUNTS_BYTES = 100_000_000;
/** Larger findings could not be held as one text. */
export const LARGEST_FINDINGS_BYTES = 400_000_000;
/** How deep below the named folder finished audits are looked for: FOLDER/SITE/PERIOD and one more. */
const DEEPEST = 3;

/** A finished audit and its folder. */
export interface Finished {
  /** Relative to the folder the program runs in. */
  readonly folder: string;
  readonly counts: Counts;
}

/** The audits found below a folder, and what is wrong with those that cannot be read. */
export interface Found {
  readonly finished: readonly Finished[];
  readonly broken: readonly Problem[];
}

/**
 * Looks for finished audits in a folder and below it, ordered by name. Skips folders whose name begins with a dot, which are
 * unfinished results, and redacted results, which have no counts. A folder that cannot be read counts as broken.
 */
export async function findFinished(place: string, around: string): Promise<Found> {
  const finished: Finished[] = [];
  const broken: Problem[] = [];
  const visit = async (folder: string, depth: number): Promise<void> => {
    const shown = relative(around, folder) === "" ? "." : relative(around, folder);
    let entries;
    try {
      entries = (await readdir(folder, { withFileTypes: true })).toSorted((a, b) => (a.name < b.name ? -1 : 1));
    } catch (error) {
      broken.push(problem({ code: "result-broken", what: `The folder cannot be read (${error instanceof Error ? error.message : String(error)})`, file: shown, mend: "check the path" }));
      return;
    }
    if (entries.some(({ name }) => marks.includes(name))) {
      if (!entries.some(({ name }) => name === COUNTS_FILE) && (await isRedacted(folder))) return;
      const read = await readCounts(folder, shown);
      if ("counts" in read) finished.push(read);
      else broken.push(read);
      return;
    }
    if (depth === DEEPEST) return;
    for (const entry of entries) if (entry.isDirectory() && !entry.name.startsWith(".")) await visit(join(folder, entry.name), depth + 1);
  };
  await visit(place, 0);
  return { finished, broken };
}

async function readCounts(folder: string, shown: string): Promise<Finished | Problem> {
  const file = join(shown, COUNTS_FILE);
  const bad = (what: string, expected: string | null = null, found: string | null = null): Problem =>
    problem({ code: "result-broken", what, file, expected, found, mend: "audit this site and period again, or leave it out with --leave-out-broken" });
  let text: string;
  try {
    text = (await readSmallFile(join(folder, COUNTS_FILE), { name: file, expected: "the counts of an audit", mostBytes: LARGEST_COUNTS_BYTES })).toString("utf8");
  } catch (error) {
    if (error instanceof InputError) return bad(error.problems[0]?.what ?? "The counts of the finished audit cannot be read", "the counts of an audit", error.problems[0]?.found ?? null);
    return bad("The finished audit has no counts that can be read");
  }
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return bad("The counts of the finished audit are not whole JSON");
  }
  const schema = typeof json === "object" && json !== null && "schema" in json ? json.schema : undefined;
  if (schema !== COUNTS_SCHEMA) return bad("The counts of the finished audit have another schema", COUNTS_SCHEMA, typeof schema === "string" ? schema : "none");
  const parsed = decoded(countsSchema, json);
  if (!parsed.success) {
    const first = parsed.error.issues[0];
    return bad(`The counts of the finished audit do not have the shape of ${COUNTS_SCHEMA}`, null, first === undefined ? null : `${first.path.join(".")}: ${first.message}`);
  }
  return { folder: shown, counts: parsed.data };
}

async function isRedacted(folder: string): Promise<boolean> {
  const bytes = await readSmallFile(join(folder, "findings.json"), { name: "findings.json", expected: "findings", mostBytes: LARGEST_FINDINGS_BYTES }).catch(() => null);
  return bytes !== null && /^\s*"redacted": ?true/m.test(bytes.toString("utf8"));
}
