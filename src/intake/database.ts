import { open } from "node:fs/promises";
import { InputError } from "../ground/problem.js";
import type { InputFile } from "./input-file.js";
import { MOST_PARTS } from "./input-file.js";
import type { RowSink } from "./row-sink.js";
import { databaseProblem, openDatabase, type OpenDatabase, type SqlValue } from "./sqlite-engines.js";

/** How every SQLite file begins (the format's description). */
const MARK = "SQLite format 3\u0000";
/** Ask whether to go on after so many rows. */
const ROWS_AT_A_TIME = 10_000;

/** A view may make rows of nothing, without end; one of rows that are there gives fewer than the file has bytes, or than this. Our own choice. */
const MOST_ROWS_OF_SMALL = 1_000_000;

/** A table or view of a database; `readsFrom`: the tables that a view speaks of. */
export interface DatabaseTable {
  readonly name: string;
  readonly readsFrom: readonly string[];
}

/** Whether a file is an SQLite database: others may have such names too. */
export async function isDatabase({ path }: Pick<InputFile, "path">): Promise<boolean> {
  const handle = await open(path);
  try {
    const head = Buffer.alloc(MARK.length);
    const { bytesRead } = await handle.read(head, 0, head.length, 0);
    return bytesRead === head.length && head.toString("latin1") === MARK;
  } finally {
    await handle.close();
  }
}

/** The tables and views of a database, by name. Throws `InputError` if it cannot be read, or has too many. */
export async function tablesOf(file: Pick<InputFile, "path" | "name" | "bytes">): Promise<DatabaseTable[]> {
  const rows = await queried(file, (database) => [...database.rows("select name, type, sql from sqlite_schema where type in ('table', 'view') and name not like 'sqlite\\_%' escape '\\' order by name")]);
  if (rows.length > MOST_PARTS) {
    throw new InputError([{ code: "file-binary", what: "The database has too many tables", file: file.name, expected: `at most ${MOST_PARTS}`, found: String(rows.length), mend: "export those with readings as CSV" }]);
  }
  const tables = rows.filter(([, type]) => type === "table").map(([name]) => String(name));
  return rows.map(([name, type, sql]) => ({ name: String(name), readsFrom: type === "view" ? tables.filter((table) => speaksOf(String(sql), table)) : [] }));
}

function speaksOf(sql: string, table: string): boolean {
  return new RegExp(`(?<![\\p{L}\\p{N}_])${table.replace(/[^\p{L}\p{N}_]/gu, "\\$&")}(?![\\p{L}\\p{N}_])`, "iu").test(sql);
}

/**
 * Reads a table or view as if it were text with a header: its columns are the columns; a row's line is its number, counted from 1. Null is
 * an empty cell, and what is neither number nor text is `[binary]`. `afterRows` says whether to go on. Throws `InputError` if the
 * database cannot be read.
 */
export async function readTable(file: InputFile, table: string, sink: RowSink, afterRows: () => boolean | Promise<boolean>): Promise<void> {
  const database = await openDatabase(file);
  try {
    // Hidden columns are not shown; those that are worked out are.
    const columns = ask(file.name, () => [...database.rows(`select name from pragma_table_xinfo(${quoted(table, "'")}) where hidden <> 1`)].map(([name]) => String(name)));
    if (columns.length === 0) throw databaseProblem(file.name, new Error(`no table "${table}"`));
    sink.row(columns, 0, true);
    // Under names of our own: an engine may give a row as an object, in which columns called 1 and 2 would come first.
    const rows = ask(file.name, () => database.rows(`select ${columns.map((name, i) => `${quoted(name, '"')} as c${i}`).join(", ")} from ${quoted(table, '"')}`)[Symbol.iterator]());
    for (let count = 1, next = ask(file.name, () => rows.next()); next.done !== true; count++, next = ask(file.name, () => rows.next())) {
      sink.row(next.value.map(cellText), count, true);
      if (count > Math.max(MOST_ROWS_OF_SMALL, file.bytes)) throw new InputError([{ code: "file-binary", what: "The view gives more rows than the database has bytes", file: file.name, expected: `at most ${Math.max(MOST_ROWS_OF_SMALL, file.bytes).toLocaleString("en-GB")}`, found: "more", mend: "make a view of rows that are in the database, or export them as CSV" }]);
      if (count % ROWS_AT_A_TIME === 0 && !(await afterRows())) {
        rows.return?.();
        break;
      }
    }
  } finally {
    database.close();
  }
}

async function queried<Value>(file: Pick<InputFile, "path" | "name" | "bytes">, work: (database: OpenDatabase) => Value): Promise<Value> {
  const database = await openDatabase(file);
  try {
    return ask(file.name, () => work(database));
  } finally {
    database.close();
  }
}

/** Whatever an engine throws is a problem of the file. */
function ask<Value>(file: string, work: () => Value): Value {
  try {
    return work();
  } catch (error) {
    throw databaseProblem(file, error);
  }
}

function cellText(value: SqlValue): string {
  if (value === null) return "";
  return value instanceof Uint8Array ? "[binary]" : String(value);
}

/** A name or text as SQL takes it. */
function quoted(text: string, quote: "'" | '"'): string {
  return `${quote}${text.replaceAll(quote, quote + quote)}${quote}`;
}
