import { describe, expect, it } from "vitest";
import { InputError, problem, problemText } from "../../src/ground/problem.js";

describe("problemText", () => {
  it("says what, where, what was expected, what was found and how to mend it", () => {
    const text = problemText(
      problem({ code: "column-missing", what: "There is no column stamp", file: "board.csv", line: 1, column: 4, expected: "stamp", found: "time", mend: "name the column in the site file" }),
    );
    expect(text).toBe("board.csv:1:4: There is no column stamp. Expected stamp; found time. To mend it: name the column in the site file.");
  });

  it("leaves out what is not known", () => {
    expect(problemText(problem({ code: "file-empty", what: "The file is empty", file: "a.csv" }))).toBe("a.csv: The file is empty.");
    expect(problemText(problem({ code: "command-line", what: "No site file", found: "nothing" }))).toBe("No site file. Found nothing.");
  });

  it("shows control characters instead of sending them to the terminal", () => {
    expect(problemText(problem({ code: "site-shape", what: "Bad name \u001b[2J\u202e", file: "a\nb" }))).toBe("a\\u000ab: Bad name \\u001b[2J\\u202e.");
  });
});

it("carries every problem, one a line", () => {
  const error = new InputError([{ code: "file-empty", what: "One" }, { code: "file-empty", what: "Two" }]);
  expect(error.message).toBe("One.\nTwo.");
  expect(error.problems).toHaveLength(2);
});
