import { describe, expect, it } from "vitest";
import { findWords, pairOf, standing } from "../../src/draft/words.js";

const seen = (counts: Readonly<Record<string, number>>) => findWords(new Map(Object.entries(counts)));

describe("the words of a signal", () => {
  it("are known by their meaning, in the spellings of the export", () => {
    expect(seen({ Shut: 40, open: 30, OPEN: 2 })).toMatchObject({ on: ["OPEN", "open"], off: ["Shut"], class: "door", meaning: "told" });
    expect(seen({ in: 10, out: 10 })).toMatchObject({ on: ["in"], off: ["out"], class: "person" });
    expect(seen({ empty: 10, occupied: 10 })).toMatchObject({ on: ["occupied"], off: ["empty"], class: "bay" });
  });
  it("say yes or no without saying of what", () => {
    expect(seen({ "1": 10, "0": 200 })).toMatchObject({ on: ["1"], off: ["0"], class: null, meaning: "plain" });
  });
  it("are completed where only one of two was seen", () => {
    expect(seen({ closed: 200 })).toMatchObject({ on: ["open"], off: ["closed"], class: "door" });
  });
  it("without a meaning of their own are left unknown", () => {
    expect(seen({ red: 10, green: 20 })).toMatchObject({ on: ["green"], off: ["red"], meaning: "unknown" });
  });
  it("pass over rare other words, and count them", () => {
    expect(seen({ open: 100, closed: 100, "--": 3 })?.others).toEqual(new Map([["--", 3]]));
    expect(seen({ open: 10, closed: 10, stuck: 10 })).toBeNull();
    expect(seen({ "": 10, "n/a": 3 })).toBeNull();
  });
  it("leave out what says nothing", () => {
    expect([standing("n/a"), standing(" "), standing("no-link"), standing("open")]).toEqual(["missing", "missing", "lost", "news"]);
    expect(pairOf(["", "open", "closed"])).toMatchObject({ class: "door" });
    expect(pairOf(["d1", "d2"])).toBeNull();
  });
});
