import { describe, expect, it } from "vitest";
import { arrivalRules } from "../../../src/judge/propose/arrivals.js";
import { departureRules } from "../../../src/judge/propose/departures.js";
import { makeInterned } from "../../../src/judge/propose/intern.js";
import { missingEvidence } from "../../../src/judge/propose/missing.js";
import { learn } from "../../../src/judge/propose/occasions.js";
import { groupsOf, hasSinglePoint } from "../../../src/judge/propose/structure.js";
import { accountsOf, allOf, anyOf, bookOf, day, min, siteOf, structureOf, turned } from "../small-site.js";

describe("how many must lie together", () => {
  it.each([
    ["one signal of two", anyOf(turned("a", 1, 1), turned("b", 1, 1)), {}, true],
    ["two signals on two boards", allOf(turned("a", 1, 1), turned("b", 1, 1)), {}, false],
    ["two signals on one board", allOf(turned("a", 1, 1), turned("b", 1, 1)), { a: ["board"], b: ["board"] }, true],
  ])("%s", (_, when, shares: Readonly<Record<string, readonly string[]>>, alone) => {
    expect(hasSinglePoint(structureOf(when, (signal) => shares[signal] ?? []))).toBe(alone);
  });

  it("counts the fewest, causes as one", () => {
    const when = allOf(turned("a", 1, 1), turned("b", 1, 1), turned("c", 1, 1));
    expect(groupsOf(structureOf(when))).toBe(3);
    expect(groupsOf(structureOf(when, (signal) => (signal === "c" ? [] : ["board"])))).toBe(2);
  });
});

describe("what the first part of a history teaches", () => {
  // Ida comes with the vehicle of bay-1 three times, Max once by himself; her phone tells three minutes after the meter.
  const site = siteOf({ subjects: { "bay-1": "bay", ida: "person", max: "person" }, signals: { meter: "bay-1", "phone-ida": "ida", "phone-max": "max" } });
  const vehicle = "0 off, 100 on, 200 off, 400 on, 500 off, 700 on, 800 off, 1000 on, 1100 off, 1200 on";
  const ida = "0 off, 103 on, 200 off, 403 on, 500 off, 703 on, 800 off, 1003 on, 1100 off, 1203 on";
  const max = "0 off, 300 on, 350 off";
  const history = { period: day, accounts: accountsOf({ meter: vehicle, "phone-ida": ida, "phone-max": max }), book: bookOf({ "bay-1": { truth: vehicle }, ida: { truth: ida }, max: { truth: max } }), groups: new Map<string, string>() };

  it("is whose vehicle it is, and how long its reports take", () => {
    const learned = learn(site, history, min(1440));
    expect(learned.ownersOf("bay-1").map(({ id }) => id)).toEqual(["ida"]);
    // Three minutes, a quarter more, rounded up; the last to tell needs no more than the margin.
    expect(learned.windowsFor(["bay", "person"]).at(-1)).toMatchObject({ bay: min(4), person: min(1) });
  });

  it("is nothing about owners where too few came before the rest begins", () => {
    expect(learn(site, history, min(450)).ownersOf("bay-1").map(({ id }) => id)).toEqual(["ida", "max"]);
  });

  it("makes rules that leave out nothing that is needed, each once", () => {
    const learned = learn(site, history, min(1440));
    const needed = new Set(["person", "bay"] as const);
    const rules = [...arrivalRules(learned, needed, makeInterned()), ...departureRules(learned, needed, makeInterned())];
    expect(new Set(rules.map((one) => JSON.stringify(one))).size).toBe(rules.length);
    for (const rule of rules) for (const part of ["meter", "phone-"]) expect(JSON.stringify(rule)).toContain(part);
  });
});

describe("missing evidence", () => {
  const subjects = { door: "door", ida: "person" } as const;
  it.each([
    ["one board for all", siteOf({ subjects, signals: { rail: "door", phone: "ida" }, shares: { rail: ["board-a"], phone: ["board-a", "hub"] } }), /all sensors depend on board-a\.$/],
    ["phones alone", siteOf({ subjects, signals: { phone: "ida", tag: "ida" } }), /all the sensors watch people\.$/],
    ["a phone and nothing else of a person", siteOf({ subjects, signals: { rail: "door", phone: "ida" } }), /nothing besides phone tells whether ida is here\.$/],
    ["two of one person that were found to go wrong together", siteOf({ subjects, signals: { rail: "door", phone: "ida", tag: "ida" } }), /nothing besides phone and tag tells whether ida is here\.$/],
  ])("is named: %s", (_, site, words) => {
    expect(missingEvidence(site, [["phone", "tag"]])).toMatch(words);
  });

  it("is not claimed where each person has two witnesses", () => {
    expect(missingEvidence(siteOf({ subjects, signals: { rail: "door", phone: "ida", tag: "ida" } }), [])).toBe(null);
  });
});
