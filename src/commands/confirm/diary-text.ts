import { parse } from "csv-parse/sync";
import { DateTime } from "luxon";
import { csvHeader, csvRows } from "../../ground/csv-text.js";
import { asPeopleSaveIt } from "../csv-options.js";
import { InputError } from "../../ground/problem.js";
import { diaryColumns } from "../../intake/diary.js";
import { isoText } from "../../result/values.js";

/** A row for the diary: times are epoch milliseconds. An empty state says "I don't know". */
export interface DiaryRow {
  readonly subject: string;
  readonly state: string;
  readonly from: number;
  readonly to: number;
}

/** How rows are written down. */
export interface Writing {
  readonly file: string;
  readonly timeZone: string;
  /** For the column `note`, where there is one. */
  readonly note: string;
}

const newHeader = [...diaryColumns, "note"];
/** As all CSV we write (RFC 4180). */
const NEW_LINE = "\r\n";

/**
 * A diary with rows added at its end; everything that stood there stays as it was, to the byte. Null is no diary yet: it gets
 * a header. Cells go where the header has their columns, further columns stay empty; line ends are the file's own; times are
 * ISO 8601 with the site's offset. Throws `InputError` if the header lacks a column of a diary.
 */
export function withRows(content: Buffer | null, rows: readonly DiaryRow[], writing: Writing): Buffer {
  const before = content === null || content.length === 0 ? Buffer.from(csvHeader(newHeader)) : content;
  const text = before.toString("utf8");
  const header = headerOf(text, writing.file);
  const lineEnd = /\r\n|\n|\r/.exec(text)?.[0] ?? NEW_LINE;
  const cells = rows.map((row) => header.map((column) => cellOf(column, row, writing)));
  const added = csvRows(cells, { lineEnd });
  return Buffer.concat([before, Buffer.from(/[\r\n]$/.test(text) || added === "" ? added : lineEnd + added)]);
}

function headerOf(text: string, file: string): string[] {
  const rows: string[][] = parse(text, { ...asPeopleSaveIt, to: 1 });
  const header = (rows[0] ?? []).map((cell) => cell.trim());
  if (diaryColumns.every((column) => header.includes(column))) return header;
  throw new InputError([{ code: "column-missing", what: "The first line of the diary file is not the header of a diary", file, expected: diaryColumns.join(","), found: header.slice(0, 10).join(","), mend: "correct its first line, or name another file under `diary` in the site file" }]);
}

function cellOf(column: string, row: DiaryRow, { timeZone, note }: Writing): string {
  if (column === "subject" || column === "state") return row[column];
  if (column === "from" || column === "to") return DateTime.fromMillis(row[column], { zone: timeZone }).toISO({ suppressMilliseconds: true }) ?? isoText(row[column]);
  return column === "note" ? note : "";
}
