import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expressionText } from "../../src/site/expression-text.js";
import { parseSite } from "../../src/site/parse.js";
import { betaQuantile } from "../../src/statistics/distributions.js";

const guide = readFileSync(new URL("../../docs/site-file.md", import.meta.url), "utf8");
const blocks = [...guide.matchAll(/```yaml\n([^]*?)```/g)].map(([, text]) => text!);
const example = blocks[0] ?? "";
const blockWith = (part: string): string => blocks.slice(1).find((one) => one.includes(part)) ?? "";
const stated = blockWith("stated:");

/** The one-sided 95 % upper bound of Clopper & Pearson (1934) for no failure in this many tests. */
const atMost = (tests: number): number => betaQuantile(0.95, 1, tests);

describe("the guide to the site file", () => {
  it("tells what tests without a failure show", () => {
    const told = [...guide.matchAll(/0 (?:failures )?of (\d+) → at most ([\d.]+) %/g)].map(([, tests, percent]): [number, string] => [Number(tests), percent!]);
    expect(told.map(([tests]) => tests)).toEqual([20, 59]);
    for (const [tests, percent] of told) expect([tests, percent]).toEqual([tests, (100 * atMost(tests)).toPrecision(3)]);
  });

  it("tells how many tests a share takes", () => {
    const [, percent, tests] = /A share of (\d+) % takes (\d+) tests/.exec(guide)!;
    expect(atMost(Number(tests))).toBeLessThanOrEqual(Number(percent) / 100);
    expect(atMost(Number(tests) - 1)).toBeGreaterThan(Number(percent) / 100);
  });

  it("shows stir signals, and what rules may ask of them", () => {
    const file = `site: Home
timezone: UTC
sources: { log: { files: log.csv, time: { column: time, written: iso }, signal: what, value: says } }
doors: { front: {} }
${blockWith("kind: stir")}  front-contact: { on: front, source: log, channel: front, kind: contact, open: open, closed: shut }
rules:
  - name: lock
    act: lock
    when:
      all:
${blockWith("every: stirs").replaceAll(/^/gm, "        ")}`;
    const site = parseSite(file, "site.yaml", "/somewhere");
    expect(site.signals.map(({ id, kind, lastsMs }) => [id, kind, lastsMs])).toEqual([["hall", "stir", undefined], ["tap", "stir", 60_000], ["front-contact", "contact", undefined]]);
    expect(expressionText(site.rules[0]!.when, site)).toBe(
      "hall has been still for 10 min and tap has been still for 10 min and " +
        "hall has been still since front-contact turned closed (not counting the first 1 min) and tap has been still since front-contact turned closed (not counting the first 1 min)",
    );
  });

  it("shows sources in archives, sheets and databases, and other ways to tell the time", () => {
    const kinds = `doors: { front: {}, gate: {} }
bays: { bay-1: {} }
signals:
  front-contact: { on: front, source: winter, kind: contact, open: auf, closed: zu }
  bay-1-overhead: { on: bay-1, source: ceiling, kind: distance, unit: cm, present: [100, 140] }
  hall: { on: front, source: house, channel: hall, kind: contact, open: "1", closed: "0" }
  gate-rail: { on: gate, source: logger, kind: contact, open: "1", closed: "0" }
`;
    const site = parseSite(`site: Home\ntimezone: Europe/Berlin\n${blockWith("front door*.csv")}${kinds}`, "site.yaml", "/somewhere");
    expect(site.sources.map(({ id, files, timeColumn, timeOfDayColumn, written }) => [id, files[0], timeColumn, timeOfDayColumn, written])).toEqual([
      ["winter", "exports/*.zip/front door*.csv", "Datum", "Uhrzeit", { pattern: "dd.MM.yyyy HH:mm:ss" }],
      ["ceiling", "exports/garage.xlsx/October", "When", undefined, "iso"],
      ["house", "exports/house.db/named_readings", "at", undefined, "epoch-s"],
      ["logger", "logger/run-7.csv", "millis", undefined, { counts: "ms-since", unitMs: 1, startMs: Date.UTC(2026, 9, 1, 6) }],
    ]);
  });

  it("shows statements that a rule can make", () => {
    const before = example.indexOf("    stated:");
    const after = example.indexOf("  - name: lock when");
    const site = parseSite(example.slice(0, before) + stated + example.slice(after), "site.yaml", "/somewhere");
    expect(site.rules[0]?.stated).toMatchObject({ commonCause: { atMostShare: 0.02 }, noSharedHours: { because: expect.any(String) as string }, oneParts: [["yard-door-rail", "phone-tom"]] });
  });
});
