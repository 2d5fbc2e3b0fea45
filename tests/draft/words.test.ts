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
  it("are opposites where one denies the other, however it is written", () => {
    expect(seen({ home: 10, not_home: 8 })).toMatchObject({ on: ["home"], off: ["not_home"], class: "person", meaning: "told" });
    expect(seen({ Da: 10, "nicht da": 8 })).toMatchObject({ on: ["Da"], off: ["nicht da"], class: "person" });
    expect(seen({ "not home": 8 })).toMatchObject({ on: ["home"], off: ["not home"], class: "person" });
    expect(seen({ wet: 3, "not-wet": 8 })).toMatchObject({ on: ["wet"], off: ["not-wet"], class: null, meaning: "plain" });
    // Here the word with "un" is the one that means open.
    expect(seen({ latched: 30, unlatched: 30 })).toMatchObject({ on: ["unlatched"], off: ["latched"], class: "door" });
  });
  it("are known in German, French and Spanish too", () => {
    expect(seen({ offen: 10, zu: 8 })).toMatchObject({ on: ["offen"], off: ["zu"], class: "door" });
    expect(seen({ "Fermé": 10, Ouvert: 8 })).toMatchObject({ on: ["Ouvert"], off: ["Fermé"], class: "door" });
    expect(seen({ "en casa": 10, fuera: 8 })).toMatchObject({ on: ["en casa"], off: ["fuera"], class: "person" });
  });
  it("tell of a lost contact in many ways", () => {
    expect(["No_Reply", "nicht erreichbar", "hors ligne", "timed out"].map(standing)).toEqual(["lost", "lost", "lost", "lost"]);
  });
  it("leave out what says nothing", () => {
    expect([standing("n/a"), standing(" "), standing("no-link"), standing("open")]).toEqual(["missing", "missing", "lost", "news"]);
    expect(pairOf(["", "open", "closed"])).toMatchObject({ class: "door" });
    expect(pairOf(["d1", "d2"])).toBeNull();
  });
});
