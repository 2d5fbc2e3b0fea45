/** What holds several exports in one file: a zip archive its members, a spreadsheet its sheets, a database its tables and views. */
export type Holder = "zip" | "spreadsheet" | "database";

/** One export in a file that holds several. */
export interface InputPart {
  readonly holder: Holder;
  /** As the holder calls it. */
  readonly name: string;
}

/** A file to read: its path, its name for messages (relative to the site file's folder) and its size on disk. */
export interface InputFile {
  readonly path: string;
  readonly name: string;
  readonly bytes: number;
  /** The one of the exports in the file that is meant; its name stands behind the file's in `name`. Absent where the file is the export. */
  readonly part?: InputPart;
  /** How much it may unpack to, if it is packed with gzip; absent: {@link MOST_UNPACKED_BYTES}. */
  readonly mostUnpackedBytes?: number;
}

/** More than any export that people pack as one file, less than fills a disk or takes hours. Our own choice. */
export const MOST_UNPACKED_BYTES = 2_000_000_000;

/** More exports in one file are refused: each is opened by itself. Our own choice. */
export const MOST_PARTS = 1_000;

const endings: readonly (readonly [Holder, RegExp])[] = [
  ["zip", /\.zip$/i],
  ["spreadsheet", /\.(?:xlsx|xlsm)$/i],
  ["database", /\.(?:db|db3|sqlite|sqlite3)$/i],
];

/** What a file of this name holds several exports as; null for a file that is one export. */
export function holderOf(name: string): Holder | null {
  return endings.find(([, ending]) => ending.test(name))?.[0] ?? null;
}

/** A path into a file, cut behind the file: `oct.zip/door*.csv` is `oct.zip` and `door*.csv`. Null for a path that leads into none. */
export function cutAtHolder(path: string): { readonly file: string; readonly part: string } | null {
  const match = /^(.*?\.(?:zip|xlsx|xlsm|db|db3|sqlite|sqlite3))\/(.+)$/is.exec(path);
  return match === null ? null : { file: match[1] ?? "", part: match[2] ?? "" };
}
