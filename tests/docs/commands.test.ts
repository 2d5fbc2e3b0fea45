import { accessSync, constants, existsSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { listening } from "../commands/tiny-site.js";
import { onlyNamed } from "./only-named.js";
import { blocksOf, commandsOf, hidesCommand, namesOf, pages, pageText, spansOf } from "./page-commands.js";

/** Which test runs the commands of a page: all of them, but those in `onlyNamed`. */
const testOf: Readonly<Record<string, string>> = {
  "README.md": "readme.test.ts",
  "sample-data/README.md": "sample-data.test.ts",
  "docs/draft.md": "draft.test.ts",
  "docs/fleet.md": "fleet.test.ts",
  "docs/outputs.md": "outputs.test.ts",
  "docs/simulate.md": "simulate.test.ts",
  "docs/worked-month.md": "worked-month.test.ts",
};
/** Code examples, and the test that runs them. */
const codeTestOf: Readonly<Record<string, string>> = { "docs/library.md": "tests/install/install.test.ts", "docs/simulate.md": "tests/docs/simulate.test.ts" };

const all = pages.map((page) => ({ page, text: pageText(page), commands: commandsOf(pageText(page)) }));
const { scripts } = JSON.parse(readFileSync("package.json", "utf8")) as { scripts: Record<string, string> };
const help = async (...words: string[]): Promise<string> => {
  const around = listening(".");
  expect(await runProgram([...words, "--help"], around)).toBe(0);
  return around.said();
};
const commandNames = [...(await help()).matchAll(/^ {2}(\w+) (?:\[options\] )?</gm)].map((match) => match[1]!);

describe("every command of every page", () => {
  it("is run by the page's test, or named with a reason why not", () => {
    const run = all.filter(({ commands }) => commands.some(({ text }) => !onlyNamed.has(text))).map(({ page }) => page);
    expect(run.toSorted()).toEqual(Object.keys(testOf).toSorted());
    for (const page of run) {
      const test = readFileSync(`tests/docs/${testOf[page]!}`, "utf8");
      // The tests take the commands from the page, and list them with their outcome: a new one cannot slip through.
      expect(test, page).toMatch(page === "docs/worked-month.md" ? /commandsOf\(page\)/ : new RegExp(`runPage\\("${page}", `));
      expect(test, page).toContain("toEqual([");
    }
  });

  it("stands in the list of those that are only named for as long as a page gives it", () => {
    const given = new Set(all.flatMap(({ commands }) => commands.map(({ text }) => text)));
    expect([...onlyNamed.keys()].filter((command) => !given.has(command))).toEqual([]);
    expect([...onlyNamed.values()].filter((reason) => reason.length < 10)).toEqual([]);
  });

  it("that is a script or a manifest stands in docs/fleet.md, whose test runs one of each", () => {
    expect(all.flatMap(({ page, commands }) => commands.filter(({ form }) => form !== "line").map(({ form }) => `${page}: ${form}`))).toEqual(["docs/fleet.md: script", "docs/fleet.md: manifest"]);
  });

  it("is marked as one: no block of another language hides any", () => {
    for (const { page, text } of all) {
      expect(blocksOf(text).filter(({ language }) => !["", "sh", "yaml", "js", "ts", "text", "ini", "sql"].includes(language)), page).toEqual([]);
      expect(blocksOf(text).filter(hidesCommand), page).toEqual([]);
    }
  });

  it("kept there are commands of every kind", () => {
    const given = all.flatMap(({ commands }) => commands.filter(({ text }) => !onlyNamed.has(text)).map(({ text }) => text));
    expect(commandNames).toEqual(["audit", "combine", "thin", "confirm", "explain", "propose", "draft", "check", "simulate"]);
    for (const name of commandNames) expect(given.some((text) => text.includes(`keyworthy ${name} `)), name).toBe(true);
  });
});

describe("what is only named is there", () => {
  it.each([...onlyNamed.keys()])("%s", (command) => {
    for (const step of command.split(" && ")) {
      const [program = "", ...words] = step.split(" ");
      if (program === "npm") expect(words[0] === "ci" || words[0] === "pack" || words[0] === "install" || words[0] === "ls" ? existsSync("package-lock.json") : wholeScript(words[0] === "run" ? words[1]! : words[0]!), step).toBe(true);
      else if (program === "npx") for (const path of [`node_modules/.bin/${words[0]!}`, ...words.filter((word) => word.includes("/"))]) expect(existsSync(path), path).toBe(true);
      // The script that sbatch is given is the page's own, which its test runs.
      else if (program !== "sbatch") accessSync(program, constants.X_OK);
    }
  });

  it("and names scripts in the prose that package.json has", () => {
    for (const { page, text } of all) for (const [, name = ""] of spansOf(text).join("\n").matchAll(/\bnpm run ([\w:-]+)/g)) expect(scripts, page).toHaveProperty([name]);
  });
});

describe("every option and command that is named by itself", () => {
  it("is one of the program's", async () => {
    const texts = await Promise.all(commandNames.map((name) => help(name)));
    const options = new Set(texts.join("\n").match(/--[a-z-]+/g));
    let count = 0;
    for (const { page, text } of all) {
      for (const [, option = ""] of spansOf(text).join("\n").matchAll(/^(--[a-z-]+)/gm)) {
        expect(options, `${page}: ${option}`).toContain(option);
        count += 1;
      }
      for (const name of namesOf(text)) expect(commandNames, page).toContain(name);
    }
    expect(count).toBeGreaterThan(15);
  });
});

it("every code example of a page is run by a test", () => {
  const withCode = all.filter(({ text }) => blocksOf(text).some(({ language }) => language === "js" || language === "ts")).map(({ page }) => page);
  expect(withCode.toSorted()).toEqual(Object.keys(codeTestOf).toSorted());
  for (const page of withCode) {
    expect(blocksOf(pageText(page)).filter(({ language }) => language === "js" || language === "ts"), page).toHaveLength(1);
    expect(readFileSync(codeTestOf[page]!, "utf8"), page).toContain(page);
  }
});

/** Whether package.json has the script, and every source that it runs after building is there. */
function wholeScript(name: string): boolean {
  const script = scripts[name];
  if (script === undefined) return false;
  const sources = [...script.matchAll(/\bnode \.build\/(?:scripts\/)?(\S+)\.js/g)].map(([words, path = ""]) => (words.includes("/scripts/") ? `${path}.ts` : `src/${path}.ts`));
  const configs = [...script.matchAll(/-p (\S+)|--config (\S+)/g)].map((match) => match[1] ?? match[2] ?? "");
  const others = [...script.matchAll(/\bnpm run (?:--silent )?([\w:-]+)/g)].map((match) => match[1] ?? "");
  return [...sources, ...configs].every((path) => existsSync(path)) && others.every((other) => wholeScript(other));
}
