/** The sample rule that design clears, and what keeps it from being cleared. */
import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { audit } from "../../src/pipeline.js";
import { decoded } from "../../src/result/json-text.js";
import { countsSchema, type Counts } from "../../src/result/counts.js";
import type { RuleFinding } from "../../src/result/rules.js";

const NAME = "unlock for a vehicle and a phone";
const EARLIER = "sample-data/household-earlier";
let folder = "";
let earlier: Counts[] = [];

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "by-design-"));
  cpSync("sample-data/household", folder, { recursive: true });
  earlier = readdirSync(EARLIER).sort().map((month) => decoded(countsSchema, JSON.parse(readFileSync(join(EARLIER, month, "counts.json"), "utf8"))).data!);
});
afterAll(() => rmSync(folder, { recursive: true }));

/** The sample's rules as audited with its earlier months, its site file changed in one place. */
async function audited(change: (siteFile: string) => string): Promise<readonly RuleFinding[]> {
  const before = readFileSync("sample-data/household/site.yaml", "utf8");
  const siteFile = change(before);
  writeFileSync(join(folder, "site.yaml"), siteFile);
  return (await audit(join(folder, "site.yaml"), { period: "2026-10", madeAt: 0, earlier })).rules;
}
const named = (rules: readonly RuleFinding[], name = NAME): RuleFinding => rules.find((rule) => rule.name === name)!;
const without = (key: string) => (siteFile: string): string => {
  const changed = siteFile.replace(new RegExp(`^ +${key}: .*\\n`, "m"), "");
  expect(changed).not.toBe(siteFile);
  return changed;
};
/** Codes of the conditions of the road that do not hold. */
const failed = (rule: RuleFinding): string[] => [...rule.design!.conditions, ...(rule.cumulated?.design ?? rule.design?.figures)?.conditions ?? []].filter((one) => !one.holds).map((one) => one.code);

test("with what its owner states it is clear by design, and the sentence says who assumed what", async () => {
  const rules = await audited((same) => same);
  const rule = named(rules);
  expect(rule.verdict).toBe("clear to enable");
  expect(rule.sentence).toMatch(/^Clear to enable by design: a wrong unlock needs a false report about a vehicle and one about a person at the same time: at most 0\.\d+ a year \(limit once a year\); /);
  expect(rule.sentence).toContain("This rests on what you stated: at most 1 in 50 of the rarer kind of false report shares a cause with the other kind, and the two kinds share no hour of the day.");
  expect(rule.sentence).toContain("Counted: none wrong in ");
  expect(rule.reasons.find((one) => one.code === "wrong-upper-bound")?.effect).toBe("noted");

  // The rule beside it has too short a right_when: one false report after an arrival would do.
  const present = named(rules, "unlock on arrival");
  expect(present.verdict).toBe("not proven yet");
  expect(failed(present)).toContain("cover");
}, 60_000);

test.each([["common_cause"], ["no_shared_hours"]])("without the statement %s it is not", async (key) => {
  const rule = named(await audited(without(key)));
  expect(rule.verdict).toBe("not proven yet");
  expect(failed(rule)).toEqual([]);
  expect(rule.cumulated!.design!.bound).toBeGreaterThan(1);
}, 60_000);

test("with a phone on the board of a meter it is not: one fault could make both wrong", async () => {
  const rule = named(await audited((siteFile) => siteFile.replace("shares: [ hub, tom-phone ]", "shares: [ hub, tom-phone, board-a ]")));
  expect(rule.verdict).not.toBe("clear to enable");
  expect(failed(rule)).toContain("parts");
}, 60_000);
