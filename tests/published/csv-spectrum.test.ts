/**
 * Source: csv-spectrum (maxogden), a collection of CSV files with the JSON that they mean, as npm delivers version 2.0.0.
 * The eleven cases are those of its version 1.0.0. Mark: (S), the list of cases and its traps were seen in a public
 * secondary source. Read by name, pair by pair: the package's own loader pairs files by the order of the directory.
 * Its twelfth case, `location_coordinates`, is left out: the telephone number in its CSV is not the one in its JSON.
 */
import { readFileSync, readdirSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { makeRowReader } from "../../src/intake/rows.js";

const folder = dirname(createRequire(import.meta.url).resolve("csv-spectrum"));
const cases = ["comma_in_quotes", "empty", "empty_crlf", "escaped_quotes", "json", "newlines", "newlines_crlf", "quotes_and_newlines", "simple", "simple_crlf", "utf8"];

/** The rows as objects by the header's names, and what was set aside. */
function objectsOf(bytes: Buffer): { objects: Record<string, string>[]; bad: string[] } {
  const rows: (readonly string[])[] = [];
  const bad: string[] = [];
  const reader = makeRowReader(",", { row: (cells) => rows.push(cells), badRow: (reason) => bad.push(reason) });
  reader.push(bytes);
  reader.end();
  const [header, ...data] = rows;
  return { objects: data.map((cells) => Object.fromEntries(header!.map((name, i) => [name, cells[i]!]))), bad };
}

describe("csv-spectrum (S)", () => {
  it.each(cases)("%s", (name) => {
    const bytes = readFileSync(join(folder, "csvs", `${name}.csv`));
    // A checkout could have turned CR LF into LF, and the case would say nothing.
    expect(bytes.includes("\r\n")).toBe(name.endsWith("_crlf"));
    const meant: unknown = JSON.parse(readFileSync(join(folder, "json", `${name}.json`), "utf8"));
    expect(objectsOf(bytes)).toEqual({ objects: meant, bad: [] });
  });

  it("has no other cases than these and the one left out", () => {
    expect(readdirSync(join(folder, "csvs")).sort()).toEqual([...cases, "location_coordinates"].map((name) => `${name}.csv`).sort());
  });
});
