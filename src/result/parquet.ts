import type { ColumnTable } from "arquero";
import { parquetWriteBuffer } from "hyparquet-writer";
import type { Cell } from "../ground/csv-text.js";

/**
 * A table at rest as a Parquet file (Apache Parquet; snappy, one row group). Numbers become doubles, yes and no booleans, all else UTF-8
 * text; a column without a single value is text. Every column may be null. Text is as it stands: no spreadsheet runs it.
 */
export function parquetBytes(table: ColumnTable): Uint8Array {
  const columnData = table.columnNames().map((name) => {
    const cells = Array.from(table.array(name) as ArrayLike<Cell | undefined>, (cell) => cell ?? null);
    const first = cells.find((cell) => cell !== null);
    if (typeof first === "number") return { name, data: cells, type: "DOUBLE" as const, nullable: true };
    if (typeof first === "boolean") return { name, data: cells, type: "BOOLEAN" as const, nullable: true };
    return { name, data: cells, type: "STRING" as const, nullable: true };
  });
  return new Uint8Array(parquetWriteBuffer({ columnData }));
}
