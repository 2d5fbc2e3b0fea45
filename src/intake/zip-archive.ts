import { crc32 } from "node:zlib";
import type { Entry, ZipFile } from "yauzl";
import { openPromise } from "yauzl";
import { InputError, type ProblemParts } from "../ground/problem.js";
import type { InputFile } from "./input-file.js";
import { holderOf, MOST_PARTS } from "./input-file.js";

/** An archive may unpack to this many times its size; exports shrink to a twentieth, archives made to fill a disk to a thousandth. Our own choice. */
const MOST_TIMES = 200;
/** And to so much in any case: a small archive may be of one row repeated. Our own choice. */
const ALWAYS_BYTES = 100_000_000;
/** How a member may be packed: not at all, or deflated. */
const STORED = 0;
const DEFLATED = 8;

/** A file in an archive. */
export interface ZipMember {
  readonly name: string;
  readonly packedBytes: number;
}

/**
 * The files in a zip archive that may be exports: all but those that packing programs add (`__MACOSX/`, names that begin with a point).
 * Throws `InputError` for what is no whole archive, for one that holds too much, and for members that cannot be told apart.
 */
export async function zipMembers(file: Pick<InputFile, "path" | "name">): Promise<ZipMember[]> {
  const names = new Set<string>();
  const members = (await entriesOf(file)).filter(({ fileName }) => !fileName.endsWith("/") && !/^__MACOSX\/|(?:^|\/)\.[^/]*$/.test(fileName));
  return members.map(({ fileName, compressedSize }) => {
    if (names.has(fileName)) throw refused(file.name, "The zip archive holds two files of one name", "each name once", `"${fileName}" twice`, "unpack it, and name the files");
    names.add(fileName);
    return { name: fileName, packedBytes: compressedSize };
  });
}

/**
 * The bytes of one member, unpacked. `onBytes` is told how many of its packed bytes that were, about. Throws `InputError` if the member cannot
 * be unpacked, or is not what the archive's table of contents says. Don't use what damaged data gave before: nobody knows where the damage begins.
 */
export async function* memberChunks(file: Pick<InputFile, "path" | "name">, member: string, onBytes: (bytes: number) => void): AsyncGenerator<Buffer> {
  const zip = await opened(file);
  try {
    const entry = (await entriesIn(zip, file.name)).find(({ fileName }) => fileName === member);
    if (entry === undefined) throw refused(file.name, "The archive has changed while it was read", `"${member}" in it`, "nothing of that name", "leave it alone while it is read");
    checkReadable(file.name, entry);
    const share = entry.uncompressedSize === 0 ? 0 : entry.compressedSize / entry.uncompressedSize;
    let bytes = 0;
    let sum = 0;
    const stream = await orProblem(file.name, () => zip.openReadStreamPromise(entry));
    const chunks = stream[Symbol.asyncIterator]() as AsyncIterator<Buffer>;
    try {
      for (let next = await orProblem(file.name, () => chunks.next()); next.done !== true; next = await orProblem(file.name, () => chunks.next())) {
        bytes += next.value.length;
        sum = crc32(next.value, sum);
        onBytes(Math.round(bytes * share));
        yield next.value;
      }
    } finally {
      stream.destroy();
    }
    if (sum !== entry.crc32 >>> 0) throw damaged(file.name, "another checksum than its table of contents says");
  } finally {
    zip.close();
  }
}

async function entriesOf(file: Pick<InputFile, "path" | "name">): Promise<Entry[]> {
  const zip = await opened(file);
  try {
    return await entriesIn(zip, file.name);
  } finally {
    zip.close();
  }
}

function opened({ path, name }: Pick<InputFile, "path" | "name">): Promise<ZipFile> {
  return orProblem(name, () => openPromise(path, { lazyEntries: true, autoClose: false }));
}

async function entriesIn(zip: ZipFile, name: string): Promise<Entry[]> {
  if (zip.entryCount > MOST_PARTS) throw refused(name, "The zip archive holds too many files", `at most ${MOST_PARTS.toLocaleString("en-GB")}`, zip.entryCount.toLocaleString("en-GB"), "unpack it, and name the files");
  const entries: Entry[] = [];
  let bytes = 0;
  await orProblem(name, async () => {
    for await (const entry of zip.eachEntry()) {
      entries.push(entry);
      bytes += entry.uncompressedSize;
    }
  });
  const most = Math.max(ALWAYS_BYTES, MOST_TIMES * zip.fileSize);
  if (bytes <= most) return entries;
  const expected = `at most ${MOST_TIMES} times its size, and 100 MB in any case`;
  throw refused(name, "The zip archive unpacks to more than is read", expected, `${bytes.toLocaleString("en-GB")} bytes from ${zip.fileSize.toLocaleString("en-GB")}`, "if it is what it should be, unpack it, and name the files");
}

function checkReadable(name: string, entry: Entry): void {
  const mend = "unpack it, and name the files";
  const what = `"${entry.fileName}" in the zip archive cannot be unpacked`;
  if (entry.isEncrypted()) throw refused(name, what, "files without a password", "one with a password", mend);
  if (entry.compressionMethod === STORED || entry.compressionMethod === DEFLATED) return;
  throw refused(name, what, "files that are stored or deflated", `packing method ${entry.compressionMethod}`, mend);
}

/** Why a member is not read although archives are: it holds several exports itself, or can only be read from its end. Null for the others. */
export function problemOfMember({ name, part }: Pick<InputFile, "name" | "part">): ProblemParts | null {
  if (part?.holder !== "zip" || (holderOf(part.name) === null && !/\.(?:parquet|ods|7z|rar|tar|tgz)$/i.test(part.name))) return null;
  const archive = name.slice(0, name.length - part.name.length - 1);
  return {
    code: "file-binary",
    what: "This file is not read out of a zip archive",
    file: name,
    expected: "CSV, JSON or GPX in the archive, also with .gz",
    found: `a file that ends in ${/\.[^.]*$/.exec(part.name)?.[0] ?? ""}`,
    mend: `unpack the archive, and name the file: unzip '${archive.replaceAll("'", "'\\''")}'`,
  };
}

/** Whatever the library throws means that the archive is not whole: it reads nothing but the archive. */
async function orProblem<Value>(name: string, work: () => Promise<Value>): Promise<Value> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof InputError) throw error;
    throw damaged(name, error instanceof Error ? error.message.slice(0, 200) : "something else");
  }
}

function damaged(file: string, found: string): InputError {
  return new InputError([{ code: "file-cut-off", what: "The file cannot be unpacked", file, expected: "a whole zip archive (spreadsheets are such archives too)", found, mend: "copy or export it again" }]);
}

function refused(file: string, what: string, expected: string, found: string, mend: string): InputError {
  return new InputError([{ code: "file-binary", what, file, expected, found, mend }]);
}
