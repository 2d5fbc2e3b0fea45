import type { ProblemParts } from "../ground/problem.js";
import { shellWord } from "../ground/shell-word.js";

/** A format that exports come in and that is not read: how to know it, and the one command that turns it into text. */
interface Known {
  readonly is: string;
  readonly begins: readonly number[];
  readonly at?: number;
  readonly ending?: RegExp;
  readonly command: (file: string) => string;
}

const ascii = (text: string): number[] => [...Buffer.from(text, "latin1")];
/** It writes over what is there, so that it gets a folder of its own, which must be new. */
const office = (file: string): string => `mkdir ${shellWord(`${file}-csv`)} && libreoffice --headless --convert-to csv --outdir ${shellWord(`${file}-csv`)} ${shellWord(file)}`;

/** The signatures that the formats themselves define; written from memory. No command writes over a file that is there. */
const formats: readonly Known[] = [
  { is: "a spreadsheet", begins: ascii("PK\u0003\u0004"), ending: /\.ods$/i, command: office },
  { is: "an old spreadsheet", begins: [0xd0, 0xcf, 0x11, 0xe0], command: office },
  { is: "a 7z archive", begins: ascii("7z\u00bc\u00af\u0027\u001c"), command: (file) => `7z x ${shellWord(file)}` },
  { is: "packed with xz", begins: ascii("\u00fd7zXZ\u0000"), command: (file) => `xz -dk ${shellWord(file)}` },
  { is: "packed with bzip2", begins: ascii("BZh"), ending: /\.bz2$/i, command: (file) => `bunzip2 -k ${shellWord(file)}` },
  { is: "packed with zstandard", begins: [0x28, 0xb5, 0x2f, 0xfd], command: (file) => `zstd -d ${shellWord(file)}` },
  { is: "a tar archive", begins: ascii("ustar"), at: 257, command: (file) => `tar -xkf ${shellWord(file)}` },
  { is: "a PDF", begins: ascii("%PDF-"), command: (file) => `(set -C; pdftotext -layout ${shellWord(file)} - > ${shellWord(`${file}.txt`)})` },
];

/** Formats that are read under a name that says so: how they begin, what they are, and such an ending. */
const named = [
  { begins: [0x1f, 0x8b], is: "packed with gzip", found: "gzip data", ending: ".gz", or: "" },
  { begins: ascii("PK\u0003\u0004"), is: "a zip archive", found: "zip data", ending: ".zip", or: "; a spreadsheet needs .xlsx" },
  { begins: ascii("SQLite format 3\u0000"), is: "an SQLite database", found: "an SQLite database", ending: ".db", or: "" },
] as const;

/** What a file is that no reader here knows, with the one command that makes text of it; null for anything that may be text. */
export function problemOfFormat(file: string, head: Uint8Array): ProblemParts | null {
  const begin = ({ begins, at = 0 }: Pick<Known, "begins" | "at">): boolean => begins.every((byte, i) => head[at + i] === byte);
  const known = formats.find((one) => begin(one) && (one.ending === undefined || one.ending.test(file)));
  if (known !== undefined) {
    return {
      code: "file-binary",
      what: `This is ${known.is.startsWith("packed") ? `a file ${known.is}` : known.is}, which is not read`,
      file,
      expected: "CSV, JSON, Parquet or GPX, a spreadsheet (.xlsx), an SQLite database, or a zip archive of exports",
      found: known.is,
      mend: `turn it into text with: ${known.command(file)}`,
    };
  }
  const other = named.find(begin);
  if (other === undefined) return null;
  return {
    code: "file-binary",
    what: `The file is ${other.is}, and its name does not end in ${other.ending}`,
    file,
    expected: "CSV as text",
    found: other.found,
    mend: `rename it, also in the site file: mv -i ${shellWord(file)} ${shellWord(`${file}${other.ending}`)}${other.or}`,
  };
}
