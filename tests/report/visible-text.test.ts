import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { shortened, withVisibleText } from "../../src/report/visible-text.js";

describe("visible text", () => {
  it("shows what turns text around, hides or breaks, and leaves the rest", () => {
    expect(withVisibleText("a\u202eb")).toBe("a‹U+202E›b");
    expect(withVisibleText("bay\u200b1")).toBe("bay‹U+200B›1");
    expect(withVisibleText("line\r\nbreak\tand\u0000nul")).toBe("line break and‹U+0000›nul");
    expect(withVisibleText("half \ud83d pair")).toBe("half ‹U+D83D› pair");
    expect(withVisibleText("🚗 👩🏽‍🔧 موقف é")).toBe("🚗 👩🏽‍🔧 موقف é");
  });

  it("is well formed and unchanged by a second pass, whatever it was", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        const visible = withVisibleText(text);
        expect(visible).not.toMatch(/\p{Surrogate}/u);
        expect(withVisibleText(visible)).toBe(visible);
      }),
    );
  });

  it("goes through plain data without touching it", () => {
    const data = { names: ["a\u202e"], count: 3, nothing: null };
    expect(withVisibleText(data)).toEqual({ names: ["a‹U+202E›"], count: 3, nothing: null });
    expect(data.names).toEqual(["a\u202e"]);
  });
});

describe("shortening", () => {
  it("cuts between characters as a reader counts them", () => {
    expect(shortened("bay-1", 5)).toBe("bay-1");
    expect(shortened("bay-10", 5)).toBe("bay-…");
    expect(shortened("👩🏽‍🔧👩🏽‍🔧👩🏽‍🔧", 3)).toBe("👩🏽‍🔧👩🏽‍🔧👩🏽‍🔧");
    expect(shortened("👩🏽‍🔧👩🏽‍🔧👩🏽‍🔧👩🏽‍🔧", 3)).toBe("👩🏽‍🔧👩🏽‍🔧…");
  });
});
