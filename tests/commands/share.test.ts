import fc from "fast-check";
import { expect, it } from "vitest";
import { filesOfShare, parseShare } from "../../src/commands/share.js";

it("puts every file into exactly one share, whatever the order they were named in, and shares differ by one file at most", () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.string({ minLength: 1 }), { maxLength: 40 }), fc.integer({ min: 1, max: 20 }), (files, parts) => {
      const shares = Array.from({ length: parts }, (_, i) => filesOfShare(files, { part: i + 1, parts }));
      expect(shares.flat().sort()).toEqual([...files].sort());
      expect(Array.from({ length: parts }, (_, i) => filesOfShare([...files].reverse(), { part: i + 1, parts }))).toEqual(shares);
      const sizes = shares.map((share) => share.length);
      expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
    }),
  );
});

it("says what a share looks like", () => {
  expect(parseShare("3/16")).toEqual({ part: 3, parts: 16 });
  for (const wrong of ["0/4", "5/4", "4", "1/0", "a/b", "1/4/2"]) expect(() => parseShare(wrong)).toThrow(`--part ${wrong} is not a share. Expected I/N with I from 1 to N, such as 3/16; found ${wrong}.`);
});
