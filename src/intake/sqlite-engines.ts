import { shellWord } from "../ground/shell-word.js";
import { readFile, stat } from "node:fs/promises";
import { pathToFileURL } from "node:url";
import { InputError } from "../ground/problem.js";
import type { InputFile } from "./input-file.js";

/** A value of a database as the engines give it. */
export type SqlValue = string | number | bigint | boolean | Uint8Array | null;

/** A database that is open for reading. */
export interface OpenDatabase {
  /** The rows of a query, one after the other: an array of values each. */
  readonly rows: (sql: string) => Iterable<readonly SqlValue[]>;
  readonly close: () => void;
}

/** Node's own engine, from Node 22.15 on: as much of it as is used. */
interface NodeSqlite {
  readonly DatabaseSync: new (path: string | URL, options: { readonly readOnly: boolean }) => {
    exec: (sql: string) => void;
    prepare: (sql: string) => { setReadBigInts: (on: boolean) => void; iterate: () => Iterable<Readonly<Record<string, SqlValue>>> };
    close: () => void;
  };
}

/** The engine of the package sql.js, which holds the whole file in memory: as much of it as is used. */
interface SqlJs {
  readonly default: () => Promise<{
    readonly Database: new (bytes: Uint8Array) => {
      exec: (sql: string) => unknown;
      prepare: (sql: string) => { step: () => boolean; get: () => SqlValue[]; free: () => void };
      close: () => void;
    };
  }>;
}

/** What the engines are imported as. Neither is there on every machine: the compiler does not look for them. */
const engines = { own: "node:sqlite" as string, other: "sql.js" as string };
/** A larger file is not read into memory. Our own choice. */
const MOST_BYTES_IN_MEMORY = 512_000_000;
/** Bytes 18 and 19 of an SQLite file are 2 where changes go into a second file first, and 1 where they do not (the format's description). */
const WRITE_VERSION = 18;

/**
 * Opens an SQLite file for reading: with Node's own engine, or with the package sql.js where that is installed. Nothing is written to
 * it. Throws `InputError` where neither is there, or the file cannot be read. `names`: the engines, under other names only in tests.
 */
export async function openDatabase(file: Pick<InputFile, "path" | "name" | "bytes">, names = engines): Promise<OpenDatabase> {
  const own = await byNode(file, names.own);
  if (own !== null) return own;
  const other = await bySqlJs(file, names.other);
  if (other !== null) return other;
  throw new InputError([
    {
      code: "file-binary",
      what: "This is an SQLite database, and nothing here can read one",
      file: file.name,
      expected: "Node.js 22.15 or newer, or the package sql.js",
      found: `Node.js ${process.versions.node}`,
      mend: `take a newer Node.js, or install the package where keyworthy is installed (npm install sql.js), or turn the database into text with: sqlite3 -header -csv -readonly ${shellWord(file.name)} "select * from TABLE" > TABLE.csv`,
    },
  ]);
}

async function byNode(file: Pick<InputFile, "path" | "name">, engineName: string): Promise<OpenDatabase | null> {
  const engine = await loaded<NodeSqlite>(engineName);
  if (engine === null) return null;
  const place = pathToFileURL(file.path);
  // As something that does not change no lock is taken, and no file is made beside it; but then changes that wait are not seen.
  if ((await waitingBytes(file.path)) === 0) place.searchParams.set("immutable", "1");
  return orProblem(file.name, () => {
    const database = new engine.DatabaseSync(place, { readOnly: true });
    database.exec("pragma trusted_schema = off");
    return {
      *rows(sql) {
        const statement = database.prepare(sql);
        statement.setReadBigInts(true);
        for (const row of statement.iterate()) yield Object.values(row);
      },
      close: () => {
        database.close();
      },
    };
  });
}

async function bySqlJs({ path, name, bytes }: Pick<InputFile, "path" | "name" | "bytes">, engineName: string): Promise<OpenDatabase | null> {
  const engine = await loaded<SqlJs>(engineName);
  if (engine === null) return null;
  if (bytes > MOST_BYTES_IN_MEMORY) {
    const expected = `at most ${MOST_BYTES_IN_MEMORY / 1e6} MB, or Node.js 22.15 or newer`;
    throw new InputError([{ code: "file-binary", what: "The database is too large to be read into memory", file: name, expected, found: `${Math.ceil(bytes / 1e6)} MB`, mend: "take a newer Node.js, or export its tables as CSV" }]);
  }
  const waiting = await waitingBytes(path);
  if (waiting > 0) {
    throw new InputError([
      {
        code: "file-binary",
        what: "Some rows of the database are not in its file yet",
        file: name,
        expected: `no file ${name}-wal beside it, or Node.js 22.15 or newer`,
        found: `${waiting} bytes in it`,
        mend: `close the program that writes it, or read a copy: sqlite3 '${name.replaceAll("'", "'\\''")}' "vacuum into 'copy.db'"`,
      },
    ]);
  }
  const { Database } = await engine.default();
  const content = await readFile(path);
  // Nothing waits in a second file, so that the first is whole; in memory there is no second.
  content.fill(1, WRITE_VERSION, WRITE_VERSION + 2);
  return orProblem(name, () => {
    const database = new Database(content);
    database.exec("pragma trusted_schema = off");
    return {
      *rows(sql) {
        const statement = database.prepare(sql);
        try {
          while (statement.step()) yield statement.get();
        } finally {
          statement.free();
        }
      },
      close: () => {
        database.close();
      },
    };
  });
}

/** How much waits in a second file to be brought into the database. */
function waitingBytes(path: string): Promise<number> {
  return stat(`${path}-wal`).then(({ size }) => size, () => 0);
}

/** Whatever an engine throws means that the file is not what its name says: it reads nothing but the file. */
function orProblem<Value>(file: string, work: () => Value): Value {
  try {
    return work();
  } catch (error) {
    throw databaseProblem(file, error);
  }
}

/** What an engine found wrong, as a problem of the file. */
export function databaseProblem(file: string, error: unknown): InputError {
  if (error instanceof InputError) return error;
  const found = error instanceof Error ? error.message.slice(0, 200) : "something else";
  return new InputError([{ code: "file-binary", what: "The database cannot be read", file, expected: "a whole SQLite database", found, mend: "copy it again while nothing writes to it" }]);
}

/** An engine, or null where it is not there. Node says of its own that it may change, which is nothing to its users. */
async function loaded<Engine>(name: string): Promise<Engine | null> {
  const say = process.emitWarning.bind(process);
  process.emitWarning = (warning: string | Error, ...rest: unknown[]) => {
    if (!/SQLite is an experimental feature/.test(String(warning))) Reflect.apply(say, null, [warning, ...rest]);
  };
  try {
    return (await import(name)) as Engine;
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === "ERR_MODULE_NOT_FOUND" || code === "ERR_UNKNOWN_BUILTIN_MODULE") return null;
    throw error;
  } finally {
    process.emitWarning = say;
  }
}
