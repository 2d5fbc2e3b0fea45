import { describe, expect, it } from "vitest";
import { problem, problemText } from "../../src/ground/problem.js";
import { readHeader } from "../../src/intake/header.js";

function headerProblem(cells: readonly string[], wanted: readonly string[], delimiter = ","): string {
  const reading = readHeader(cells, wanted, { file: "board.csv", line: 1, delimiter }, (cell) => /^\d/.test(cell));
  return reading.problem === null ? "" : problemText(problem(reading.problem));
}

describe("the header of an export", () => {
  it("tells where each wanted column stands, spaces around names passed over", () => {
    const { at } = readHeader(["note", " stamp", "reading", "note"], ["stamp", "reading"], { file: "board.csv", line: 1, delimiter: "," }, () => false);
    expect(at).toEqual(new Map([["stamp", 1], ["reading", 2]]));
  });

  it("names every column that lacks, the columns found, and what was probably meant", () => {
    expect(headerProblem(["Stamp", "chanel", "value"], ["stamp", "channel", "reading"])).toBe(
      'board.csv:1: The header lacks the columns "stamp", "channel", "reading". Expected "stamp", "channel", "reading"; found the columns "Stamp", "chanel", "value". To mend it: did you mean "Stamp" instead of "stamp"? did you mean "chanel" instead of "channel"?',
    );
  });

  it("sees another separator", () => {
    expect(headerProblem(["stamp;channel;reading"], ["stamp"])).toContain('the header looks separated by ";": say so with `delimiter`');
    expect(headerProblem(["stamp\tchannel"], ["stamp"])).toContain("the header looks separated by tabs");
  });

  it("sees that it is no header, but a title, or a line that says what separates the columns", () => {
    expect(headerProblem(["Log of the yard"], ["stamp", "channel"])).toContain("To mend it: if this line is a title, delete the lines above the column names.");
    expect(headerProblem(["sep=;"], ["stamp", "channel"])).toContain("To mend it: delete this line, which only says what separates the columns, and say so with `delimiter`.");
  });

  it("sees that there is none, and does not show the data", () => {
    expect(headerProblem(["2026-10-01T00:00Z", "d1", "3.2"], ["stamp", "channel"])).toBe(
      'board.csv:1: The file has no header row. Expected a first row with the column names "stamp", "channel"; found a row of data. To mend it: export with column names, or add a first line with them.',
    );
  });

  it("refuses a wanted column that stands there twice, but not one nobody asks for", () => {
    expect(headerProblem(["stamp", "reading", "reading"], ["stamp", "reading"])).toBe(
      'board.csv:1: The header names "reading" more than once. Expected one column of each name that the site file uses; found the columns "stamp", "reading", "reading". To mend it: rename or remove the columns that are not meant.',
    );
    expect(headerProblem(["stamp", "reading", "note", "note"], ["stamp", "reading"])).toBe("");
  });

  it("takes the one new column for the one that is missing, and says how to write both names", () => {
    expect(headerProblem(["stamp", "roof"], ["stamp", "ceiling (cm)"])).toContain('To mend it: if "roof" is what it is called now, write both names: ["ceiling (cm)", "roof"].');
    expect(headerProblem(["stamp", "roof", "side"], ["stamp", "ceiling (cm)"])).toContain('write all its names, as in ["ceiling (cm)", "new name"].');
  });

  it("shows only the beginning of a very wide header", () => {
    const cells = Array.from({ length: 500 }, (_, i) => `column ${i}`);
    expect(headerProblem(cells, ["stamp"])).toContain('"column 29" and 470 more');
  });
});
