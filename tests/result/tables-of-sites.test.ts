import { mkdir, mkdtemp, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { DuckDBInstance } from "@duckdb/node-api";
import { fromCSV } from "arquero";
import { beforeAll, describe, expect, it } from "vitest";
import type { Findings } from "../../src/result/findings.js";
import { episodesCsv, firingsCsv, signalsCsv } from "../../src/result/tables.js";
import { exampleFindings } from "../report/example-findings.js";

/** The example with nothing in a column that others fill: no model and no lag, no participant of an episode, no firing with a wanted instant. */
const named = (name: string, more: Partial<Findings> = {}): Findings => ({ ...exampleFindings, ...more, site: { ...exampleFindings.site, name } });
const none = { value: null, low: null, high: null };
const sites: readonly Findings[] = [
  named("Alder", {
    signals: exampleFindings.signals.map((one) => ({ ...one, model: null, lagOn: { ...one.lagOn, median: { ...one.lagOn.median, ...none }, p90: { ...one.lagOn.p90, ...none } } })),
    episodes: exampleFindings.episodes.map((one) => ({ ...one, participants: [] })),
    rules: exampleFindings.rules.map((one) => ({ ...one, wantedList: [], firingList: one.firingList.map((firing) => ({ ...firing, wantedAt: null, delaySeconds: null })) })),
  }),
  named("Brook", { signals: exampleFindings.signals.map((one) => ({ ...one, model: "side-1" })) }),
  named("Cinder", { rules: [], episodes: [] }),
];
const tables = { "signals.csv": signalsCsv, "episodes.csv": episodesCsv, "firings.csv": firingsCsv } as const;

/** What a reader makes of a cell, so that both can be compared: days and instants as milliseconds. */
function plain(value: unknown): string | number | boolean | null {
  if (value === null || value === undefined) return null;
  if (value instanceof Date) return value.getTime();
  if (typeof value === "bigint") return Number(value);
  if (typeof value === "object" && "days" in value) return Number(value.days) * 86_400_000;
  if (typeof value === "object" && "micros" in value) return Number(value.micros) / 1000;
  return value as string | number | boolean;
}

describe.each(Object.entries(tables))("%s of several sites put together", (name, csvOf) => {
  let folder = "";
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "keyworthy-sites-"));
    for (const one of sites) {
      await mkdir(join(folder, one.site.name));
      await writeFile(join(folder, one.site.name, name), csvOf(one));
    }
  });

  it("is read alike by DuckDB and by arquero, also where a column is empty in all rows of one site", async () => {
    const connection = await (await DuckDBInstance.create()).connect();
    const read = await connection.runAndReadAll(`SELECT * FROM '${join(folder, "*", name)}'`);
    const [first, ...others] = sites.map((one) => fromCSV(csvOf(one)));
    const together = first!.concat(...others);
    expect(read.columnNames()).toEqual(together.columnNames());
    const isEmpty = (index: number, column: string): boolean => (fromCSV(csvOf(sites[index]!)).array(column) as unknown[]).every((value) => value === null || value === undefined);
    expect(together.columnNames().filter((column) => isEmpty(0, column) && !isEmpty(1, column))).not.toEqual([]);
    const theirs = read.getRowObjects().map((row) => Object.values(row).map(plain));
    const ours = together.objects().map((row) => Object.values(row as Record<string, unknown>).map(plain));
    expect(theirs.length).toBeGreaterThan(2);
    expect(theirs).toEqual(ours);
  });
});
