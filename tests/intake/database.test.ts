import { describe, expect, it } from "vitest";
import { openDatabase } from "../../src/intake/sqlite-engines.js";
import { intakeOf, longSource } from "./example-site.js";
import { databaseOf } from "./invented-holders.js";

const from = (files: string, parts = {}) => ({ sources: [longSource({ files: [files], ...parts })] });
const table = "create table log (stamp text, channel text, reading)";
const ten = Date.parse("2026-10-01T10:00:00Z") / 1000;
const refusal = (bytes: Uint8Array, files: string): Promise<string> => intakeOf({ "house.db": bytes }, from(files)).then(() => "read", (error: unknown) => (error as Error).message);

describe("an SQLite database", () => {
  it("is read by tables and views, and every row is counted", async () => {
    const house = await databaseOf(
      "create table states (at real, sensor integer, says)",
      "create table sensors (id integer primary key, name text)",
      "insert into sensors values (1, 'd1'), (2, 'r1')",
      `insert into states values (${ten}, 1, 4.5), (${ten + 60.5}, 2, '1'), (${ten + 120}, 2, null), (${ten + 180}, 1, x'00ff')`,
      'create view "named log" as select at as stamp, name as channel, says as reading from states join sensors on sensor = id',
    );
    const read = await intakeOf({ "house.db": house }, from("house.db/named log", { written: "epoch-s" }));
    expect(read.ledger.map(({ file, read: rows, accepted, setAside }) => [file, rows, accepted, setAside])).toEqual([["house.db/named log", 4, 2, 2]]);
    expect(read.pairs["rail"]).toEqual([["2026-10-01T10:01:00.500Z", 1]]);
    expect(read.setAside.map(({ line, reason, detail }) => `${line} ${reason}: ${detail}`)).toEqual(["3 no value: nothing in column \"reading\"", '4 value not a number: column "reading": "[binary]" is not a number']);
  });

  it("is read although it was written with a second file for changes, which is empty", async () => {
    const house = await databaseOf(table, "insert into log values ('2026-10-01T10:00:00Z', 'r1', 1)");
    house.fill(2, 18, 20);
    expect((await intakeOf({ "house.sqlite": house, "house.sqlite-wal": "" }, from("house.sqlite/log"))).pairs["rail"]).toHaveLength(1);
  });

  it("may have columns with numbers for names, in their order", async () => {
    const house = await databaseOf('create table log (stamp text, "2" text, "1" text)', "insert into log values ('2026-10-01T10:00:00Z', 'r1', '1')");
    const layout = { form: "long" as const, signalColumn: "2", valueColumn: "1", latitudeColumn: null, longitudeColumn: null };
    expect((await intakeOf({ "house.db": house }, from("house.db", { layout }))).pairs["rail"]).toEqual([["2026-10-01T10:00:00.000Z", 1]]);
  });

  it("is text where its name ends so and it is none", async () => {
    expect((await intakeOf({ "house.db": "stamp,channel,reading\n2026-10-01T10:00:00Z,r1,1\n" }, from("house.db"))).pairs["rail"]).toHaveLength(1);
  });

  it("that is damaged is refused, and so is a view of what there is no more", async () => {
    const house = await databaseOf(table, ...Array.from({ length: 300 }, (_, i) => `insert into log values ('2026-10-01T10:00:00Z', 'r1', '${"x".repeat(i)}')`));
    const expected = "Expected a whole SQLite database; found";
    expect(await refusal(house.fill(7, 4096, 20_000), "house.db/log")).toMatch(`house.db/log: The database cannot be read. ${expected} database disk image is malformed. To mend it: copy it again while nothing writes to it.`);
    expect(await refusal(await databaseOf("create view v as select * from gone"), "house.db/v")).toMatch(/^house\.db\/v: The database cannot be read\. .*no such table: main\.gone/);
  });

  it("with changes that wait in a second file is refused where the engine would not see them", async () => {
    const files = { "house.db": await databaseOf(table), "house.db-wal": "x".repeat(40) };
    if (process.versions.node.startsWith("20.")) {
      await expect(intakeOf(files, from("house.db/log"))).rejects.toThrow(
        "house.db: Some rows of the database are not in its file yet. Expected no file house.db-wal beside it, or Node.js 22.15 or newer; found 40 bytes in it. To mend it: close the program that writes it, or read a copy: sqlite3 'house.db' \"vacuum into 'copy.db'\".",
      );
    } else expect((await intakeOf(files, from("house.db/log"))).ledger).toHaveLength(1);
  });

  it("that nothing here can read is refused with what can", async () => {
    const opened = openDatabase({ path: "house.db", name: "my house.db", bytes: 1 }, { own: "node:no-such", other: "no-such-package" });
    await expect(opened).rejects.toThrow(
      `my house.db: This is an SQLite database, and nothing here can read one. Expected Node.js 22.15 or newer, or the package sql.js; found Node.js ${process.versions.node}. ` +
        "To mend it: take a newer Node.js, or install the package where keyworthy is installed (npm install sql.js), or turn the database into text with: sqlite3 -header -csv -readonly 'my house.db' \"select * from TABLE\" > TABLE.csv.",
    );
  });

  it("that is too large for memory is refused by the engine that would hold it there", async () => {
    const opened = openDatabase({ path: "house.db", name: "house.db", bytes: 6e8 }, { own: "node:no-such", other: "sql.js" });
    await expect(opened).rejects.toThrow("house.db: The database is too large to be read into memory. Expected at most 512 MB, or Node.js 22.15 or newer; found 600 MB. To mend it: take a newer Node.js, or export its tables as CSV.");
  });
});
