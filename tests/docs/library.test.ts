import { expect, it } from "vitest";
import * as keyworthy from "../../src/index.js";
import { COUNTS_SCHEMA } from "../../src/result/counts-schema.js";
import { FLEET_SCHEMA } from "../../src/result/fleet-schema.js";
import { FINDINGS_SCHEMA } from "../../src/result/schema.js";
import * as report from "../../src/report/index.js";
import { blocksOf, pageText } from "./page-commands.js";

/* The example of the page is run by tests/install/install.test.ts, from an installed package. */
const page = pageText("docs/library.md");
const namesUnder = (head: string): string[] => {
  const table = page.slice(page.indexOf(head)).split("\n\n")[0]!;
  return [...table.matchAll(/^\| (`[^|]*) \|/gm)].flatMap((row) => [...row[1]!.matchAll(/`(\w+)/g)].map((word) => word[1]!)).toSorted();
};

it("names everything that the library has, and nothing else", () => {
  expect(namesUnder("| from `keyworthy` |")).toEqual(Object.keys(keyworthy).toSorted());
  expect(namesUnder("| from `keyworthy/report` |")).toEqual(Object.keys(report).toSorted());
});

it("has an example of at most 20 lines", () => {
  expect(blocksOf(page).map(({ language, text }) => [language, text.trim().split("\n").length <= 20])).toEqual([["js", true]]);
});

it("names the versions of all shapes", () => {
  for (const schema of [FINDINGS_SCHEMA, COUNTS_SCHEMA, FLEET_SCHEMA]) expect(page).toContain(`\`${schema}\``);
});
