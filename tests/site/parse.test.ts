import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { expressionText } from "../../src/site/expression-text.js";
import { parseSite } from "../../src/site/parse.js";
import { edited, messagesFor, smallSite } from "./small-site.js";

const guide = readFileSync(new URL("../../docs/site-file.md", import.meta.url), "utf8");
const example = /```yaml\n([^]*?)```/.exec(guide)![1]!;

describe("the example of the guide", () => {
  const site = parseSite(example, "heron-lane.yaml", "/sites");

  it("says who and where", () => {
    expect([site.name, site.file, site.folder, site.timeZone]).toEqual(["Heron Lane", "heron-lane.yaml", "/sites", "Europe/London"]);
    expect(site.subjects).toEqual([
      { id: "bay-1", class: "bay", vehicle: "estate" },
      { id: "yard-door", class: "door", vehicle: null },
      { id: "mira", class: "person", vehicle: null },
      { id: "tom", class: "person", vehicle: null },
    ]);
  });

  it("describes its sources", () => {
    expect(site.sources[0]).toEqual({
      id: "board-log", files: ["exports/board-*.csv"], timeColumn: "stamp", written: "iso", zone: "Europe/London", skippedHour: "set-aside", delimiter: ",", decimal: ".", encoding: null,
      layout: { form: "long", signalColumn: "channel", valueColumn: "reading", latitudeColumn: null, longitudeColumn: null }, missing: [""], lost: ["offline"], clockCorrectionMs: 0,
    });
    expect(site.sources[1]).toEqual({
      id: "phones", files: ["exports/phones.csv", "exports/older/phones-*.csv.gz"], timeColumn: "When", written: { pattern: "dd/MM/yyyy HH:mm:ss" }, zone: "Europe/London",
      skippedHour: "shift", delimiter: ";", decimal: ".", encoding: null, missing: ["", "n/a"], lost: [], clockCorrectionMs: -90_000,
      layout: { form: "wide", columns: new Map<string, unknown>([["phone-mira", { value: "Mira" }], ["phone-tom", { value: "Tom" }], ["place-tom", { latitude: "Tom lat", longitude: "Tom lon" }]]) },
    });
  });

  it("describes its signals, all lengths in metres", () => {
    const [overhead, wall, mat] = site.signals;
    expect(overhead).toMatchObject({ id: "bay-1-overhead", subject: "bay-1", channel: "d1", reading: { form: "distance", unit: "ft" }, settleMs: 20_000, expectMs: 180_000, shares: ["board-a"], model: "ultrasonic" });
    expect(overhead?.band?.nearMetres).toBeCloseTo(1.12776, 9);
    expect(overhead?.band?.farMetres).toBeCloseTo(1.43256, 9);
    expect(overhead?.band?.slackMetres).toBeCloseTo(0.03048, 9);
    expect(overhead?.band?.maximumMetres).toBeCloseTo(4.8768, 9);
    expect(wall).toMatchObject({ band: { nearMetres: 0.2, farMetres: 0.9, slackMetres: 0, maximumMetres: null }, settleMs: 0, model: null });
    expect(mat).toMatchObject({ reading: { form: "words", on: ["1"], off: ["0"] }, band: null, expectMs: null, shares: [] });
    expect(site.signals.find((signal) => signal.id === "place-tom")).toMatchObject({
      channel: null, reading: { form: "position", homeLatitude: 50, homeLongitude: -3 }, band: { nearMetres: 0, farMetres: 150, slackMetres: 30, maximumMetres: null },
    });
  });

  it("reads its rules, with every, some and named conditions written out", () => {
    const [unlock, lock] = site.rules;
    expect(unlock).toMatchObject({ name: "unlock on arrival", act: "unlock", restMs: 300_000, rightWhenIsDefault: true });
    expect(unlock?.line).toBe(example.split("\n").indexOf("  - name: unlock on arrival") + 1);
    expect(expressionText(unlock!.when, site)).toBe(
      "(bay-1-overhead turned occupied within 2 min or at least 2 of (bay-1-wall is occupied; bay-1-mat is occupied; bay-1-overhead was occupied within the last 5 min))" +
        " and yard-door-rail is open and (phone-mira turned here within 10 min or phone-tom turned here within 10 min or place-tom turned here within 10 min)",
    );
    expect(expressionText(unlock!.rightWhen, site)).toBe("mira turned here within 15 min or tom turned here within 15 min");
    expect(expressionText(lock!.when, site)).toBe(
      "bay-1-overhead is empty and bay-1-wall is empty and bay-1-mat is empty and yard-door-rail is closed" +
        " and phone-mira has been away for 5 min and phone-tom has been away for 5 min and place-tom has been away for 5 min and not (yard-door-rail was open within the last 1 min)",
    );
    expect(expressionText(lock!.rightWhen, site)).toBe("mira is away and tom is away and bay-1 is empty");
    expect(lock!.rightWhenIsDefault).toBe(false);
  });

  it("reads limits, diary and settings", () => {
    expect(site.confidence).toBe(0.95);
    expect(site.limits).toEqual({ unlock: { wrongPerYear: 0.5, missedShare: 0.1, withinMs: 120_000 }, lock: { wrongPerYear: 2, inWords: "twice a year", missedShare: 0.1, withinMs: 900_000 } });
    expect([site.diary, site.bridgeMs, site.joinMs, site.restartMs]).toEqual([["diary/*.csv"], 60_000, 600_000, 10_000]);
  });
});

describe("parseSite", () => {
  it("accepts the small site, with defaults where it says nothing", () => {
    expect(messagesFor(smallSite)).toEqual([]);
    const site = parseSite(edited(["limits:\n  unlock: { wrong_per_year: 0.5, missed_share: 0.1, within: 2min }\n", ""]), "site.yaml", "/");
    expect([site.confidence, site.limits, site.diary, site.bridgeMs, site.joinMs, site.restartMs, site.rules[0]?.restMs]).toEqual([0.95, {}, [], 60_000, 600_000, 10_000, 0]);
  });

  it("reads words as they are written, whatever YAML would make of them", () => {
    const site = parseSite(edited(["open: 1, closed: 0", "open: [1, on, yes, true, 1.50, 0x1, ~], closed: [0, off, no, false, 1e3, 2026-10-01, null]"], ["channel: r1", "channel: 007"]), "site.yaml", "/");
    expect(site.signals[1]).toMatchObject({ channel: "007", reading: { on: ["1", "on", "yes", "true", "1.50", "0x1", "~"], off: ["0", "off", "no", "false", "1e3", "2026-10-01", "null"] } });
  });

  it("counts empty cells as missing unless they are said to mean lost", () => {
    const lost = (words: string) => parseSite(edited(["value: reading", `value: reading\n    lost: ${words}`]), "site.yaml", "/").sources[0];
    expect(lost("gone")).toMatchObject({ missing: [""], lost: ["gone"] });
    expect(lost('["", gone]')).toMatchObject({ missing: [], lost: ["", "gone"] });
  });

  it("takes bays, doors and people with nothing behind their names", () => {
    expect(messagesFor(edited(["doors: { gate: {} }", "doors: { gate }"], ["people: { mira: {}, tom: {} }", "people:\n  mira:\n  tom:"]))).toEqual([]);
  });

  it("takes names that JavaScript objects have a use for, and unusual ones", () => {
    for (const name of ["constructor", "toString", "Ärger & Söhne <b>", "1", "true", "x".repeat(600), "👩‍🚒 stand"]) {
      expect(messagesFor(smallSite.replaceAll("gate", JSON.stringify(name)))).toEqual([]);
      expect(messagesFor(smallSite.replaceAll("rail", JSON.stringify(name)))).toEqual([]);
    }
    expect(messagesFor(edited(["doors: { gate: {} }", "doors: { gate: {}, __proto__: {} }"]))).toEqual(['site.yaml:15:20: This key is not allowed. Found "__proto__".']);
  });

  it("follows aliases, and refuses those without end", () => {
    const site = parseSite(edited(["- { signal: rail, is: open }", "- &open { signal: rail, is: open }\n        - any: [*open]"]), "site.yaml", "/");
    expect(expressionText(site.rules[0]!.when, site)).toBe("overhead turned occupied within 2 min and rail is open and rail is open");
    expect(messagesFor(edited(["people: {", "people: { ada: *nobody,"]))).toEqual([
      'site.yaml:16:11: No signal watches the person "ada". To mend it: add a signal with "on: ada", or take the person out.',
      "site.yaml:16:16: The alias *nobody has no value. Expected a value marked &nobody before it.",
    ]);
    expect(messagesFor("a: &x [*x]")).toEqual(["site.yaml:1:7: The file is nested more than 60 levels deep."]);
    const doubling = ["a0: &a0 [x, x]", ...Array.from({ length: 20 }, (_, i) => `a${i + 1}: &a${i + 1} [*a${i}, *a${i}]`)].join("\n");
    expect(messagesFor(doubling).join()).toMatch(/^site\.yaml:\d+:\d+: The file holds more than 200000 values\.$/);
  });

  it("stops at a condition that grows without measure", () => {
    const levels = Array.from({ length: 30 }, (_, i) => `  c${i}: { any: [{ use: c${i + 1} }, { use: c${i + 1} }] }`).join("\n");
    const [first] = messagesFor(edited(["rules:", `named:\n${levels}\n  c30: { signal: rail, is: open }\nrules:`]));
    expect(first).toMatch(/^site\.yaml:\d+:\d+: The condition has more than 20000 parts once its named conditions are written out\. To mend it: make it smaller\.$/);
  });

  it("says everything at once, in order, and nothing that only follows from another mistake", () => {
    expect(
      messagesFor(
        edited(["Europe/London", "Europe/Paris2"], ["kind: contact", "kind: contac"], ["act: unlock", "act: unlok"], ["[3.7, 4.7]", "[4.7, 3.7]"], ["missed_share: 0.1", "missed_share: 2"]),
      ),
    ).toEqual([
      'site.yaml:2:11: The time zone "Europe/Paris2" is not known. Expected an IANA time zone such as Europe/London. To mend it: did you mean "Europe/Paris"?',
      "site.yaml:18:87: The band of signals › overhead is empty. Expected [near, far] with near less than far; found [4.7, 3.7].",
      'site.yaml:19:53: The value of signals › rail › kind cannot be used. Expected distance, contact, phone, position, flag or stir; found "contac". To mend it: did you mean "contact"?',
      'site.yaml:24:10: The value of rules › item 1 › act cannot be used. Expected unlock, lock, disarm or arm; found "unlok". To mend it: did you mean "unlock"?',
      "site.yaml:30:48: The value of limits › unlock › missed_share cannot be used. Expected a share above 0 and up to 1 (0.1 is one in ten); found \"2\".",
    ]);
  });

  it("judges a site without people by its bays", () => {
    const bays = `site: Depot\ntimezone: UTC\nsources: { log: { files: a.csv, time: { column: t, written: epoch-s }, signal: s, value: v } }\nbays: { b1: , b2: }\n` +
      `signals:\n  m1: { on: b1, source: log, channel: 1, kind: flag, occupied: 1, empty: 0 }\n  m2: { on: b2, source: log, channel: 2, kind: contact, occupied: 1, empty: 0 }\n` +
      `rules:\n  - { name: in, act: disarm, when: { some: bays, is: occupied } }\n  - { name: out, act: arm, when: { every: bays, is: empty } }\n`;
    const site = parseSite(bays, "site.yaml", "/");
    expect(site.rules.map((rule) => expressionText(rule.rightWhen, site))).toEqual(["b1 turned occupied within 15 min or b2 turned occupied within 15 min", "b1 is empty and b2 is empty"]);
  });

  it("says what is wrong with text that is no site file", () => {
    expect(messagesFor(" \n")).toEqual(["site.yaml: The file is empty. Expected YAML text."]);
    expect(messagesFor("- a")).toEqual(["site.yaml:1:1: This is not a site file. Expected a mapping with `site`, `timezone`, `sources` and `signals`; found a list of 1."]);
    expect(messagesFor("a: b: c")).toEqual(['site.yaml:1:4: The file cannot be read as YAML here. Found nested mappings are not allowed in compact mappings. To mend it: put a text that holds ": " between quotes, and begin each key on a line of its own.']);
    expect(messagesFor("a:\n\tb: c")).toContain("site.yaml:2:1: The file cannot be read as YAML here. Found tabs are not allowed as indentation. To mend it: indent with spaces.");
    expect(messagesFor(`${smallSite}---\nsite: another\n`)).toEqual(["site.yaml:31:1: The file cannot be read as YAML here. Found a second document, after a line with ---. To mend it: keep one site to a file."]);
    expect(messagesFor("? {a: b}\n: c")[0]).toBe("site.yaml:1:1: \"site\" is missing in the site file. Expected the site's name.");
    expect(messagesFor("[".repeat(100_000))).toEqual(["site.yaml:1: The file has too many brackets within brackets."]);
    expect(messagesFor("- ".repeat(20_000))).toEqual(["site.yaml:1: The file has too many levels within levels."]);
    expect(messagesFor(Array.from({ length: 300 }, (_, i) => `${" ".repeat(i)}a:\n`).join(""))).toEqual(["site.yaml:241: The file has too many levels within levels."]);
    expect(messagesFor("#\n".repeat(1_000_000))).toEqual(["site.yaml:300001: The file is too long: up to here it has more than 300,000 line ends, colons, commas and marks."]);
    expect(messagesFor("a: 1\n".repeat(1_000)).slice(99)).toEqual([expect.stringMatching(/^site\.yaml:101:1: "a" is given twice\./), "site.yaml:102:1: There are more mistakes in the file than are told."]);
  });

  it("throws nothing but InputError, whatever the text", () => {
    // `messagesFor` throws on anything else.
    const pieces = ["site", "signals", ":", " ", "\n", "- ", "{", "}", "[", "]", ",", "&a", "*a", "!!str", "!x", "|", ">", "'", '"', "#", "%YAML 1.1", "---", "<<", "?", "~", "\t", "\u0000", "\ud800", "rules", "all", "1", "when"];
    fc.assert(fc.property(fc.array(fc.constantFrom(...pieces), { maxLength: 40 }), (parts) => void messagesFor(parts.join(""))), { numRuns: 2_000 });
    fc.assert(fc.property(fc.string({ unit: "binary", maxLength: 60 }), (text) => void messagesFor(text)), { numRuns: 1_000 });
  });

  it("throws nothing but InputError when a good file is damaged anywhere", () => {
    const bits = ["", " ", ":", "{}", "[]", "x", "\n", "-", "0", "{", "'", "null", "&a *a", "{ all: [{ use: a }] }"];
    fc.assert(
      fc.property(fc.nat(example.length), fc.nat(12), fc.constantFrom(...bits), (at, cut, bit) => void messagesFor(example.slice(0, at) + bit + example.slice(at + cut))),
      { numRuns: 400 },
    );
  });
});
