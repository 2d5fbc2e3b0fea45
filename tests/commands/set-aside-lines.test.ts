import { describe, expect, it } from "vitest";
import { setAsideLines } from "../../src/commands/set-aside-lines.js";

function listed(count: number, forgetRows: boolean, most: { readonly rows: number; readonly characters: number }): string[] {
  let text = "";
  const lines = setAsideLines((more) => (text += more), forgetRows, most);
  for (let line = 2; line < 2 + count; line++) lines.row({ file: "board.csv", line, reason: "no value", detail: "nothing", raw: "x,y" });
  lines.end();
  return text.split("\r\n");
}

describe("the list of rows that were not used", () => {
  it("tells each with its text", () => {
    expect(listed(2, false, { rows: 10, characters: 1000 })).toEqual(["file,line,reason,detail,raw", 'board.csv,2,no value,nothing,"x,y"', 'board.csv,3,no value,nothing,"x,y"', ""]);
  });

  it("leaves texts out when there are too many of them, and says so", () => {
    expect(listed(2, false, { rows: 10, characters: 15 })[2]).toBe("board.csv,3,no value,,(text left out: this file would be too large)");
  });

  it("ends after so many rows with how many more there are", () => {
    expect(listed(5, false, { rows: 3, characters: 1000 }).slice(3)).toEqual(['board.csv,4,no value,nothing,"x,y"', ',,not listed,2 more; the ledger in findings.json counts all of them by file and reason,', ""]);
  });

  it("forgets the rows where asked", () => {
    expect(listed(1, true, { rows: 3, characters: 1000 })[1]).toBe("board.csv,2,no value,,");
  });
});
