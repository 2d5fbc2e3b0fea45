import { cp, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { parse } from "yaml";
import { makePlace, outcomes, runPage, type Place, type Ran } from "./place.js";
import { pageText } from "./page-commands.js";

/* The page's examples are those of the sample household. */
const draft = "keyworthy draft exports --out site.yaml";
const page = pageText("docs/draft.md").replace(/\s+/g, " ");
let place: Place;
let ran: Map<string, Ran>;
let drafted: string;

beforeAll(async () => {
  place = await makePlace("household");
  await cp("sample-data/household/exports", join(place.folder, "exports"), { recursive: true });
  ran = await runPage("docs/draft.md", place);
  drafted = await readFile(join(place.folder, "site.yaml"), "utf8");
});
afterAll(() => place.remove());

it("gives a command that does what it says", () => {
  expect(outcomes(ran)).toEqual([`${draft}: 0`]);
});

it("quotes the evidence to the word", () => {
  const quoted = /Every inference has its evidence in a comment: \*(.+?)\*\./.exec(page)?.[1];
  expect(quoted).toBeDefined();
  expect(drafted).toContain(`# ${quoted!}`);
});

it("marks and counts what the exports do not tell, at the top of the file and at the end of the run", () => {
  expect(drafted.match(/# FILL IN:/g)).toHaveLength(1);
  expect(drafted.split("\n")[1]).toMatch(/^# 1 thing is left open: search for FILL IN\./);
  expect(ran.get(draft)!.said).toMatch(/left open: in which time zone is the site\?[^]*1 thing is left open: search for FILL IN\. .* Look at it, then: keyworthy check site\.yaml\n$/);
  expect(drafted).toContain("# check: ");
});

it("puts no rule and no limit in force", () => {
  expect(Object.keys(parse(drafted) as object)).toEqual(["site", "timezone", "sources", "bays", "doors", "people", "signals"]);
  expect(drafted).toMatch(/^# rules:$/m);
  expect(drafted).toMatch(/^# limits:$/m);
});

it("is never written over", async () => {
  expect(page).toContain("An existing file is never overwritten.");
  const again = await place.run(draft);
  expect([again.status, again.told]).toEqual([2, "site.yaml: The site file exists already, and a draft does not overwrite it. To mend it: name another file with --out.\n"]);
  expect(await readFile(join(place.folder, "site.yaml"), "utf8")).toBe(drafted);
});
