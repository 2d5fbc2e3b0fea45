import { readFile, stat } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { findingsSchema } from "../../src/result/findings.js";
import { makePlace, outcomes, runPage, type Place, type Ran } from "./place.js";
import { pageText } from "./page-commands.js";
import { smallHousehold } from "./small-household.js";

const explain = "keyworthy explain reports/heron-lane/2026-10/findings.json --at 2026-10-16T17:15";
const page = pageText("docs/outputs.md");
let place: Place;
let ran: Map<string, Ran>;

/** The names in the first column of the first table below a sentence. */
const namesBelow = (sentence: string): string[] => {
  const table = /^\|(?:.*\|\n)+/m.exec(page.slice(page.indexOf(sentence)))?.[0] ?? "";
  return [...table.matchAll(/^\| `([^`]+)` \|/gm)].map((match) => match[1] ?? "");
};

beforeAll(async () => {
  place = await makePlace("keyworthy");
  await place.write(smallHousehold());
  ran = await runPage("docs/outputs.md", place);
});
afterAll(() => place.remove());

it("gives commands that do what it says", () => {
  expect(outcomes(ran)).toEqual(["keyworthy audit site.yaml --month 2026-10: 3", "keyworthy audit site.yaml --redact: 3", "keyworthy confirm site.yaml --month 2026-10: 0", `${explain}: 0`, "keyworthy propose site.yaml --act unlock: 3"]);
});

it("lists the files that are written, readable by their owner alone", async () => {
  const listed = namesBelow("# What an audit writes");
  expect(listed.toSorted()).toEqual(await place.list("reports/heron-lane/2026-10"));
  for (const name of listed) expect((await stat(join(place.folder, "reports/heron-lane/2026-10", name))).mode & 0o777).toBe(0o600);
});

it("lists the keys of findings.json, all of them and no other", async () => {
  const findings = findingsSchema.parse(JSON.parse(await readFile(join(place.folder, "reports/heron-lane/2026-10/findings.json"), "utf8")));
  const listed = namesBelow("## findings.json");
  const told = [...page.matchAll(/^`(\w+)` holds the same/gm)].map((match) => match[1] ?? "");
  expect([...listed, ...told].toSorted()).toEqual(Object.keys(findings).toSorted());
  for (const key of namesBelow("Of each rule there are also:")) expect(findings.rules[0]).toHaveProperty(key);
});

it("lists the files of a redacted result", async () => {
  const sentence = /It holds ([^;]*);/.exec(page)?.[1] ?? "";
  const listed = [...sentence.matchAll(/`([^`]+)`/g)].map((match) => match[1] ?? "");
  expect(listed.toSorted()).toEqual(await place.list("reports/heron-lane/redacted"));
  expect(await readFile(join(place.folder, "reports/heron-lane/redacted/report.html"), "utf8")).not.toMatch(/Heron Lane|mira|overhead/);
});

it("explains the moment with what came within ten minutes of it, signal by signal and rule by rule", () => {
  const { said } = ran.get(explain)!;
  expect(said).toContain("Heron Lane, Fri 16 Oct 2026, 17:15:00 (Europe/London), and from 17:05:00 to 17:25:00 around it");
  for (const signal of ["overhead", "wall", "door-rail", "phone-mira"]) expect(said).toMatch(new RegExp(`^ {2}${signal} +\\w+ +since `, "m"));
  expect(said).toMatch(/^What most likely happened:$/m);
  expect(said).toMatch(/^unlock on arrival: /m);
});

it("asks at a terminal, or says that there is nothing to ask, and says what was written", () => {
  expect(ran.get("keyworthy confirm site.yaml --month 2026-10")!.said).toMatch(/There is nothing to ask you\.|No answer was given, and nothing was written\./);
});
