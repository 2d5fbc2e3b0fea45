import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseSite } from "../../src/site/parse.js";
import { betaQuantile } from "../../src/statistics/distributions.js";

const guide = readFileSync(new URL("../../docs/site-file.md", import.meta.url), "utf8");
const [example = "", stated = ""] = [...guide.matchAll(/```yaml\n([^]*?)```/g)].map(([, text]) => text);

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

  it("shows statements that a rule can make", () => {
    const before = example.indexOf("    stated:");
    const after = example.indexOf("  - name: lock when");
    const site = parseSite(example.slice(0, before) + stated + example.slice(after), "site.yaml", "/somewhere");
    expect(site.rules[0]?.stated).toMatchObject({ commonCause: { atMostShare: 0.02 }, noSharedHours: { because: expect.any(String) as string }, oneParts: [["yard-door-rail", "phone-tom"]] });
  });
});
