import { parquetReadObjects } from "hyparquet";
import { expect, it } from "vitest";
import { parquetBytes } from "../../src/result/parquet.js";
import { firingsTable, signalsTable } from "../../src/result/tables.js";
import { exampleFindings } from "../report/example-findings.js";

it("writes tables that a Parquet reader reads back, nulls and texts as they are", async () => {
  for (const table of [signalsTable(exampleFindings), firingsTable(exampleFindings)]) {
    const bytes = parquetBytes(table);
    const rows = await parquetReadObjects({ file: bytes.buffer as ArrayBuffer });
    expect(rows).toEqual(table.objects().map((row) => Object.fromEntries(Object.entries(row as Record<string, unknown>).map(([key, value]) => [key, value ?? null]))));
    expect(rows.length).toBe(table.numRows());
  }
});
