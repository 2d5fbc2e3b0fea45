import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countLines, firstLineEnd, lastLineEnd, longestLine } from "../../src/intake/lines.js";

/** Texts made of letters and every sort of line break. */
const texts = fc.array(fc.constantFrom("a", "bc", "\n", "\r", "\r\n"), { maxLength: 12 }).map((parts) => parts.join(""));
const lineBreak = /\r\n|\n|\r/;

describe("line breaks in bytes", () => {
  it("count as a split at CR LF, LF and CR would count", () => {
    fc.assert(
      fc.property(texts, (text) => {
        const lines = text.split(lineBreak);
        if (lines.at(-1) === "") lines.pop();
        expect(countLines(Buffer.from(text))).toBe(lines.length);
        expect(longestLine(Buffer.from(text))).toBe(Math.max(0, ...lines.map((line) => line.length)));
      }),
    );
  });

  it("end the first line where the first break ends", () => {
    fc.assert(
      fc.property(texts, (text) => {
        const found = lineBreak.exec(text);
        expect(firstLineEnd(Buffer.from(text), true)).toBe(found === null ? 0 : found.index + found[0].length);
      }),
    );
  });

  it("leave a last CR undecided while more may come", () => {
    expect(firstLineEnd(Buffer.from("a\r"), false)).toBe(0);
    expect(lastLineEnd(Buffer.from("a\nb\r"))).toBe(2);
    expect(lastLineEnd(Buffer.from("\r"))).toBe(0);
    expect(lastLineEnd(Buffer.from("a\rb"))).toBe(2);
  });
});
