import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import * as keyworthy from "../../src/index.js";

const guide = readFileSync(new URL("../../docs/library.md", import.meta.url), "utf8");

it("runs the example of docs/library.md as it stands there", async () => {
  const example = /```js\n([\s\S]*?)```/.exec(guide)![1]!;
  const body = example.replace(/^import (\{[^}]*\}) from "keyworthy";$/m, "const $1 = keyworthy;");
  expect(body).not.toMatch(/^import/m);
  const lines: string[] = [];
  const AsyncFunction = (async () => {}).constructor as new (...words: string[]) => (...things: unknown[]) => Promise<void>;
  await new AsyncFunction("keyworthy", "console", body)(keyworthy, { log: (...words: unknown[]) => lines.push(words.join(" ")) });
  expect(lines).toContain("do not enable: unlock when a phone is near");
  expect(lines).toContain("  over 2 periods; this one alone: do not enable");
  expect(lines.slice(-2)).toEqual(["a report of the usual size", "2 audits, 2 bays compared"]);
});

it("names only what the library has", () => {
  const named = [...guide.matchAll(/^\| (`[^|]*) \|/gm)].flatMap((row) => [...row[1]!.matchAll(/`(\w+)/g)].map((word) => word[1]!));
  const functions = named.slice(0, named.indexOf("period"));
  expect(functions.length).toBeGreaterThan(8);
  expect(functions.filter((name) => !(name in keyworthy))).toEqual([]);
});
