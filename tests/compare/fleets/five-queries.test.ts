import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { fromCSV } from "arquero";
import { beforeAll, describe, expect, it } from "vitest";
import { fleetOf } from "../../../src/compare/fleets/fleet.js";
import { fleetBaysCsv, fleetSignalsCsv } from "../../../src/compare/fleets/tables.js";
import { workOrdersCsv } from "../../../src/compare/fleets/work-orders.js";
import { bayName, simulatedFleet } from "../../study/simulated-fleet.js";

/* The five questions of docs/outputs.md, asked of a fleet with DuckDB as they stand there; and the same files read by arquero. */
const fleet = fleetOf(simulatedFleet({ bays: 60, baysASite: 10, worse: [17, 41], times: 8, shape: Infinity, seed: 3 }), { madeAt: 0, madeBy: "test", leftOut: [] });
const tables = { "work-orders.csv": workOrdersCsv(fleet), "signals.csv": fleetSignalsCsv(fleet), "bays.csv": fleetBaysCsv(fleet) };

async function asked(sql: string, folder: string): Promise<{ names: string[]; types: string[]; rows: unknown[][] }> {
  const connection = await (await DuckDBInstance.create()).connect();
  const read = await connection.runAndReadAll(sql.replace(/'([\w-]+\.csv)'/g, (_, name: string) => `'${join(folder, name)}'`));
  return { names: read.columnNames(), types: read.columnTypes().map(String), rows: read.getRows() };
}

describe("the tables of a fleet", () => {
  let folder = "";
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "keyworthy-tables-"));
    for (const [name, text] of Object.entries(tables)) await writeFile(join(folder, name), text);
  });

  it("answer the five questions as they stand in the guide", async () => {
    const queries = [...(await readFile("docs/outputs.md", "utf8")).matchAll(/```sql\n([\s\S]*?)```/g)].map(([, sql = ""]) => sql);
    expect(queries).toHaveLength(5);
    const answers = await Promise.all(queries.map((sql) => asked(sql, folder)));
    const places = new Set(answers[0]!.rows.map(([, , place]) => String(place).replace(/-(wall|overhead)$/, "")));
    expect([...places].toSorted()).toEqual([bayName(17), bayName(41)]);
    expect(answers[1]!.rows).toEqual([]);
    expect(answers[3]!.rows.length).toBeGreaterThan(0);
    expect(answers[4]!.rows.map(([model]) => model).toSorted()).toEqual(["mast-2", "side-1"]);
  });

  it.each(Object.entries(tables))("%s is read alike by DuckDB and by arquero: days as days, truth values as truth values, numbers as numbers", async (name, text) => {
    const { names, types } = await asked(`SELECT * FROM '${name}'`, folder);
    const [first] = fromCSV(text).objects() as Record<string, unknown>[];
    const kindOf = (value: unknown): string => (value instanceof Date ? "DATE" : typeof value === "boolean" ? "BOOLEAN" : typeof value === "number" ? "number" : typeof value === "string" ? "VARCHAR" : "nothing");
    for (const [i, column] of names.entries()) {
      const [here, there] = [kindOf(first![column]), types[i]!.replace(/BIGINT|DOUBLE/, "number")];
      if (here !== "nothing") expect(`${column}: ${here}`).toBe(`${column}: ${there}`);
    }
    expect(names).toContain("site");
    expect(types[names.indexOf(name === "work-orders.csv" ? "month" : "period_from")]).toBe("DATE");
  });
});
