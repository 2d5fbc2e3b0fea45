import { InputError, type ProblemParts } from "../ground/problem.js";
import { findFiles, readingProblem, type InputFile } from "./files.js";
import { fitsPattern } from "./fits-pattern.js";
import { cutAtHolder, holderOf } from "./input-file.js";

/**
 * The exports that paths and globs stand for, as {@link findFiles} finds files; of a zip archive, a spreadsheet or an SQLite database each
 * export in it. Such a file alone stands for all that it holds; behind it, as in `oct.zip/door*.csv`, stands which of them are meant.
 */
export async function findExports(patterns: readonly string[], folder: string, wanted: string, problems: ProblemParts[], namedIn?: string): Promise<InputFile[]> {
  const found = new Map<string, InputFile>();
  for (const pattern of patterns) {
    for (const file of await exportsOf(pattern, folder, { wanted, namedIn }, problems)) found.set(file.name, file);
  }
  return [...found.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}

interface Asking {
  readonly wanted: string;
  readonly namedIn: string | undefined;
}

async function exportsOf(pattern: string, folder: string, { wanted, namedIn }: Asking, problems: ProblemParts[]): Promise<InputFile[]> {
  const cut = cutAtHolder(pattern);
  // A folder may be called so too: then the pattern is an ordinary one.
  const holders = cut === null ? [] : await findFiles([cut.file], folder, wanted, []);
  if (cut === null || holders.length === 0) {
    const files = await findFiles([pattern], folder, wanted, problems, namedIn);
    return (await Promise.all(files.map((file) => partsOf(file, problems)))).flat();
  }
  const before = problems.length;
  const parts = (await Promise.all(holders.map((file) => partsOf(file, problems)))).flat();
  const exact = parts.filter(({ part }) => part?.name === cut.part);
  const fitting = exact.length > 0 ? exact : parts.filter(({ part }) => part !== undefined && fitsPattern(part.name, cut.part));
  if (fitting.length === 0 && problems.length === before) problems.push(nothingFits(cut.part, holders, parts, wanted));
  return fitting;
}

/** The exports in a file: the file itself, unless it holds several. */
async function partsOf(file: InputFile, problems: ProblemParts[]): Promise<InputFile[]> {
  try {
    const parts = await exportsIn(file);
    if (parts.length === 0) problems.push({ code: "file-empty", what: "The file holds no export", file: file.name, expected: "files or tables with readings", found: "none", mend: "export it again, or leave it out" });
    return parts;
  } catch (error) {
    problems.push(...(error instanceof InputError ? error.problems : [readingProblem(error, file.name)]));
    return [];
  }
}

async function exportsIn(file: InputFile): Promise<InputFile[]> {
  switch (holderOf(file.name)) {
    case null:
      return [file];
    case "zip": {
      const { zipMembers } = await import("./zip-archive.js");
      return (await zipMembers(file)).map(({ name, packedBytes }) => ({ ...file, name: `${file.name}/${name}`, bytes: packedBytes, part: { holder: "zip", name } }));
    }
    case "spreadsheet": {
      const { sheetsOf } = await import("./workbook.js");
      return (await sheetsOf(file)).map(({ name, packedBytes }) => ({ ...file, name: `${file.name}/${name}`, bytes: packedBytes, part: { holder: "spreadsheet", name } }));
    }
    case "database": {
      const { isDatabase, tablesOf } = await import("./database.js");
      if (!(await isDatabase(file))) return [file];
      const tables = await tablesOf(file);
      return tables.map(({ name }) => ({ ...file, name: `${file.name}/${name}`, bytes: Math.ceil(file.bytes / tables.length), part: { holder: "database", name } }));
    }
  }
}

/** More names are not listed in a message. */
const MOST_LISTED = 12;

function nothingFits(part: string, holders: readonly InputFile[], parts: readonly InputFile[], wanted: string): ProblemParts {
  const names = parts.map(({ part: one }) => one?.name ?? "");
  const more = names.length > MOST_LISTED ? ", …" : "";
  return {
    code: "file-missing",
    what: `Nothing in it is called "${part}"`,
    file: holders.map(({ name }) => name).join(", "),
    expected: `exports for ${wanted}`,
    found: names.length === 0 ? "nothing" : `${names.slice(0, MOST_LISTED).map((name) => `"${name}"`).join(", ")}${more}`,
    mend: "name one of these behind the file and a slash, or * for all of them",
  };
}
