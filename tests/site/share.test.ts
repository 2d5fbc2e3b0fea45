import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parseShare } from "../../src/site/share.js";

describe("parseShare", () => {
  it.each([
    ["0.02", 0.02], ["1", 1], ["1.", 1], [".5", 0.5], ["2 %", 0.02], ["2%", 0.02], ["0.5 %", 0.005], ["100 %", 1], ["1 in 50", 0.02], ["3 in 3", 1], [" 1 in 8 ", 0.125],
  ])("reads %j as %d", (text, share) => expect(parseShare(text)).toBe(share));

  it.each(["", "0", "0 %", "1.01", "2", "101 %", "-0.1", "0 in 50", "1 in 0", "51 in 50", "1 of 50", "1/50", "one in 50", "0.5 in 50", "2 percent", "1 in", "in 50", "2 % %", "1e-2", "NaN", "∞"])("refuses %j", (text) =>
    expect(parseShare(text)).toBeNull(),
  );

  it("reads as many of as many as the quotient, up to all of them", () => {
    const count = fc.integer({ min: 1, max: 999_999 });
    fc.assert(fc.property(count, count, (some, all) => {
        expect(parseShare(`${some} in ${all}`)).toBe(some <= all ? some / all : null);
      }));
  });

  it("reads whole per cents as the same share as the number", () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 100 }), (percent) => {
        expect(parseShare(`${percent} %`)).toBe(parseShare(String(percent / 100)));
      }));
  });
});
