import { describe, expect, it } from "vitest";
import { filePatterns } from "../../src/draft/file-patterns.js";

describe("the paths of a source", () => {
  it("become one pattern where names differ in a date or number only", () => {
    expect(filePatterns(["exports/board-2026-10-01.csv.gz", "exports/board-2026-10-11.csv.gz"], ["exports/phones.csv"])).toEqual(["exports/board-*.csv.gz"]);
  });
  it("stay as they are when the pattern would take in another source's file", () => {
    expect(filePatterns(["a-1.csv", "a-2.csv"], ["a-old.csv"])).toEqual(["a-1.csv", "a-2.csv"]);
    expect(filePatterns(["a-1.csv", "a-2.csv"], ["a-old/b.csv"])).toEqual(["a-*.csv"]);
  });
  it("stay as they are for one file, and for names that a pattern would read otherwise", () => {
    expect(filePatterns(["log-1.csv"], [])).toEqual(["log-1.csv"]);
    expect(filePatterns(["log[1].csv", "log[2].csv"], [])).toEqual(["log[1].csv", "log[2].csv"]);
  });
});
