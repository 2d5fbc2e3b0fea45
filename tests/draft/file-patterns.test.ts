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
  it("stay as they are for one file without a date, and take in brackets by any character", () => {
    expect(filePatterns(["log-1.csv"], [])).toEqual(["log-1.csv"]);
    expect(filePatterns(["bay1.csv"], [])).toEqual(["bay1.csv"]);
    expect(filePatterns(["log[1].csv", "log[2].csv"], [])).toEqual(["log?*?.csv"]);
  });
  it("are ready for next month where one file's name holds a date, a month or a running number", () => {
    const nextMonth = {
      "exports/wall bay 1 2026-10.csv": "exports/wall bay 1 *.csv",
      "2026/10-2026/board 20261001.csv": "*/*/board *.csv",
      "board_01.10.2026.csv.gz": "board_*.csv.gz",
      "phones October 2026.jsonl": "phones *.jsonl",
      "Handy Jänner 2027.csv": "Handy *.csv",
      "maison-août-2026.json": "maison-*.json",
      "casa 2026 septiembre.csv": "casa *.csv",
      "octobre/ines.csv": "*/ines.csv",
      "log (3).csv": "log*.csv",
      "bay2 2026-W41.csv": "bay2 *.csv",
    };
    for (const [name, pattern] of Object.entries(nextMonth)) expect(filePatterns([name], []), name).toEqual([pattern]);
  });
  it("keep a person's name that begins like a month's", () => {
    expect(filePatterns(["may phone.csv"], [])).toEqual(["may phone.csv"]);
    expect(filePatterns(["marta.csv"], [])).toEqual(["marta.csv"]);
  });
});
