import { describe, expect, it } from "vitest";
import { withDiaryLine } from "../../../src/commands/confirm/site-line.js";

describe("the line that names the diary", () => {
  it("comes last, and all else stays: comments, order, line ends", () => {
    expect(withDiaryLine("# ours\r\nsite: x   # the house\r\n\r\nbays: { b: {} }\r\n# end\r\n", "diary.csv")).toBe("# ours\r\nsite: x   # the house\r\n\r\nbays: { b: {} }\r\n# end\r\ndiary: { files: diary.csv }\r\n");
    expect(withDiaryLine("site: x", "diary-2.csv")).toBe("site: x\ndiary: { files: diary-2.csv }\n");
  });

  it.each([
    ["a file in braces", "{ site: x }\n"],
    ["an end mark", "site: x\n...\n"],
    ["a diary without files", "site: x\ndiary: { files: [] }\n"],
    ["a diary without anything", "site: x\ndiary:\n"],
    ["a list", "- x\n"],
    ["no YAML", "site: [\n"],
    ["a key given twice", "site: x\nsite: y\n"],
  ])("is not added where that is not safe: %s", (_, text) => {
    expect(withDiaryLine(text, "diary.csv")).toBeNull();
  });

  it("is added after a text block without becoming part of it", () => {
    expect(withDiaryLine("note: |\n  some\n  text\n", "diary.csv")).toBe("note: |\n  some\n  text\ndiary: { files: diary.csv }\n");
  });
});
