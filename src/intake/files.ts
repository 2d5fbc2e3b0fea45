import { open, stat } from "node:fs/promises";
import { isAbsolute, relative, resolve, sep } from "node:path";
import glob from "fast-glob";
import { InputError, type ProblemParts } from "../ground/problem.js";
import { explosionIn, simpler } from "./glob-explosion.js";
import { fitsPattern } from "./fits-pattern.js";
import { gunzipChunks } from "./gzip-chunks.js";
import { MOST_UNPACKED_BYTES, type InputFile } from "./input-file.js";

export type { InputFile } from "./input-file.js";

/** Large enough that the work on each chunk outweighs its overhead, small enough to stay in the processor's cache. */
const CHUNK_BYTES = 131_072;

/** As much of a pattern as a message shows. */
const LONGEST_SHOWN = 80;

/** What the system calls a path at which there is nothing; a pattern may be longer than any name. */
const NOTHING_THERE: ReadonlySet<string> = new Set(["ENOENT", "ENOTDIR", "ENAMETOOLONG"]);

/**
 * The files that paths and globs stand for, relative to `folder`, each once, sorted by name. What is not there goes
 * into `problems` (`file-missing`); `wanted` says for what, e.g. `source "board-log"`.
 */
export async function findFiles(patterns: readonly string[], folder: string, wanted: string, problems: ProblemParts[], namedIn = "in the site file"): Promise<InputFile[]> {
  const found = new Map<string, InputFile>();
  for (const pattern of patterns) {
    try {
      for (const file of await filesOf(pattern, folder, { wanted, namedIn }, problems)) found.set(file.path, file);
    } catch (error) {
      problems.push(readingProblem(error, pattern));
    }
  }
  return [...found.values()].sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0));
}

/** What files are wanted for, and where they were named, for messages. */
interface Asking {
  readonly wanted: string;
  readonly namedIn: string;
}

async function filesOf(pattern: string, folder: string, asking: Asking, problems: ProblemParts[]): Promise<InputFile[]> {
  // A name that exists is meant literally, even if it holds brackets or braces.
  const literal = await placeAt(resolve(folder, pattern), folder);
  if (literal !== null && literal !== "no file") return [literal];
  const isGlob = glob.isDynamicPattern(pattern);
  const exploding = isGlob ? explosionIn(pattern) : null;
  if (exploding !== null) {
    problems.push({ code: "file-missing", what: "The pattern stands for too much, and is not looked for", expected: exploding.expected, found: pattern.length > LONGEST_SHOWN ? `"${pattern.slice(0, LONGEST_SHOWN)}…" with ${exploding.found}` : `"${pattern}" with ${exploding.found}`, mend: `write a simpler pattern ${asking.namedIn}, or several` });
    return [];
  }
  // Not only files: a link to nowhere is none, and would be missed.
  const paths = isGlob ? await globbed(pattern, folder) : [];
  const files: InputFile[] = [];
  let lost = 0;
  for (const path of paths) {
    const place = await placeAt(path, folder);
    if (place === null) {
      lost++;
      problems.push(missing(path, false, folder, asking));
    } else if (place !== "no file") files.push(place);
  }
  if (literal === "no file" && files.length + lost === 0) {
    problems.push({ code: "file-missing", what: "This is a folder or the like, not a file", file: pattern, expected: `a file for ${asking.wanted}`, mend: `name the files in it, such as ${pattern.replace(/\/+$/, "")}/*.csv` });
    return files;
  }
  if (files.length + lost === 0) problems.push(missing(pattern, isGlob, folder, asking));
  return files;
}

async function globbed(pattern: string, folder: string): Promise<string[]> {
  const { wider, tail, tailNames } = simpler(pattern) ?? { wider: pattern, tail: null, tailNames: 0 };
  const paths = await glob(wider, { cwd: folder, absolute: true, onlyFiles: false });
  return tail === null ? paths : paths.filter((path) => fitsPattern(path.split("/").slice(-tailNames).join("/"), tail));
}

/** What to call while a file is read. */
interface ChunkWatch {
  /** How many bytes of the file on disk have been read. */
  readonly onBytes?: (bytes: number) => void;
  /** A `.gz` file ends too soon: what could be unpacked has been given. Without this it is a problem. */
  readonly onCutOff?: () => void;
}

/**
 * A file's bytes, unpacked if its name ends in `.gz`. A chunk is good only until the next is asked for: its memory is used
 * again. Throws `InputError`: `file-missing` if it cannot be read, `file-binary` if it is not what its name says,
 * `file-cut-off` if a `.gz` file is damaged or (without `onCutOff`) ends too soon.
 */
export async function* fileChunks(file: InputFile, watch: ChunkWatch = {}): AsyncGenerator<Buffer> {
  try {
    const chunks = await packedChunks(file, watch.onBytes ?? (() => undefined));
    yield* file.name.toLowerCase().endsWith(".gz") ? bounded(gunzipChunks(chunks, CHUNK_BYTES, watch.onCutOff ?? null), file) : chunks;
  } catch (error) {
    throw new InputError([readingProblem(error, file.name)]);
  }
}

/** Stops a file that unpacks to more than it may: a few kilobytes can unpack to gigabytes. */
async function* bounded(chunks: AsyncGenerator<Buffer>, { name, bytes: packedBytes, mostUnpackedBytes = MOST_UNPACKED_BYTES }: InputFile): AsyncGenerator<Buffer> {
  let bytes = 0;
  for await (const chunk of chunks) {
    bytes += chunk.length;
    if (bytes > mostUnpackedBytes) {
      throw new InputError([
        {
          code: "file-binary", what: "The packed file unpacks to more than is read", file: name, expected: `at most ${(mostUnpackedBytes / 1_000_000_000).toLocaleString("en-GB")} GB`,
          found: `more, from ${packedBytes.toLocaleString("en-GB")} bytes`, mend: "if it is what it should be, allow more with `unpacks_to` of its source in the site file, or export shorter stretches",
        },
      ]);
    }
    yield chunk;
  }
}

/** What stands on disk, or in a zip archive. */
async function packedChunks(file: InputFile, onBytes: (bytes: number) => void): Promise<AsyncGenerator<Buffer>> {
  if (file.part?.holder !== "zip") return diskChunks(file.path, onBytes);
  const { memberChunks } = await import("./zip-archive.js");
  return memberChunks(file, file.part.name, onBytes);
}

/** Two buffers in turn: while one is worked on the other is filled. A stream would take fresh memory for every chunk. */
async function* diskChunks(path: string, onBytes: (bytes: number) => void): AsyncGenerator<Buffer> {
  const handle = await open(path);
  try {
    let [filling, other] = [Buffer.allocUnsafeSlow(CHUNK_BYTES), Buffer.allocUnsafeSlow(CHUNK_BYTES)];
    let bytes = 0;
    let next = handle.read(filling, 0, CHUNK_BYTES);
    for (;;) {
      const { bytesRead } = await next;
      if (bytesRead === 0) return;
      const filled = filling;
      [filling, other] = [other, filled];
      next = handle.read(filling, 0, CHUNK_BYTES);
      // If nobody awaits it, its failure must not count as unhandled.
      next.catch(() => undefined);
      bytes += bytesRead;
      onBytes(bytes);
      yield filled.subarray(0, bytesRead);
    }
  } finally {
    await handle.close();
  }
}

/** The file at a path, "no file" where there is a folder or the like, null where there is nothing; throws where it may not be looked at. */
async function placeAt(path: string, folder: string): Promise<InputFile | "no file" | null> {
  try {
    const found = await stat(path);
    if (!found.isFile()) return "no file";
    const name = relative(folder, path);
    return { path, name: (name === "" || isAbsolute(name) ? path : name).split(sep).join("/"), bytes: found.size };
  } catch (error) {
    if (NOTHING_THERE.has((error as NodeJS.ErrnoException).code ?? "")) return null;
    throw error;
  }
}

function missing(pattern: string, isGlob: boolean, folder: string, { wanted, namedIn }: Asking): ProblemParts {
  const fromHome = pattern.startsWith("~/") ? "write the path out: ~ is not known here" : null;
  return isGlob
    ? { code: "file-missing", what: `No file matches "${pattern}"`, expected: `export files for ${wanted}`, found: `none in ${folder}`, mend: fromHome ?? `put the files there, or change the pattern ${namedIn}` }
    : { code: "file-missing", what: "The file does not exist", file: pattern, expected: `a file for ${wanted}`, found: `nothing at ${resolve(folder, pattern)}`, mend: fromHome ?? `put the file there, or change its path ${namedIn}` };
}

/** What keeps a file from being read, as the system or zlib said it. Throws what is neither. */
export function readingProblem(error: unknown, name: string): ProblemParts {
  if (!(error instanceof Error)) throw error;
  const code = (error as NodeJS.ErrnoException).code ?? "";
  if (code === "Z_BUF_ERROR") {
    return { code: "file-cut-off", what: "The packed file is cut off", file: name, expected: "a whole gzip file", found: "its end before the end of the data", mend: "copy or export it again" };
  }
  if (code.startsWith("Z_")) {
    return /incorrect header/.test(error.message)
      ? { code: "file-binary", what: "The file is not packed with gzip", file: name, expected: "gzip data, as its name ends in .gz", found: "something else", mend: "take .gz off its name if it is plain text, or export it again" }
      : { code: "file-cut-off", what: "The packed file is damaged", file: name, expected: "a whole gzip file", found: error.message, mend: "copy or export it again" };
  }
  if (code === "") throw error;
  return { code: "file-missing", what: "The file cannot be read", file: name, found: code, mend: "check that it is there and that you may read it" };
}
