import { existsSync } from "node:fs";
import { readFile, readdir } from "node:fs/promises";
import { dirname, join, normalize } from "node:path";
import { describe, expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening } from "../commands/tiny-site.js";

const pages = ["README.md", "DEVELOPERS.md", "sample-data/README.md", "reports/README.md", ...(await readdir("docs")).filter((name) => name.endsWith(".md")).map((name) => `docs/${name}`)];
const tried: string[] = [];
const read = new Map(await Promise.all(pages.map(async (page) => [page, await readFile(page, "utf8")] as const)));

/** The fragment that a heading gets where Markdown is shown with links to headings. */
const fragment = (heading: string): string =>
  heading
    .toLowerCase()
    .replace(/[^\p{L}\p{N} _-]/gu, "")
    .trim()
    .replace(/ /g, "-");
const prose = (text: string): string => text.replace(/^```[\s\S]*?^```$/gm, "");

describe.each(pages)("%s", (page) => {
  const text = read.get(page) ?? "";
  const links = [...prose(text).matchAll(/\]\(([^)\s]+)\)/g)].map((match) => match[1] ?? "");

  it("links to what there is, down to the heading", async () => {
    for (const link of links.filter((target) => !/^[a-z]+:/.test(target))) {
      const [path = "", heading] = link.split("#");
      const target = path === "" ? page : normalize(join(dirname(page), path));
      expect(existsSync(target), `${page} links to ${link}`).toBe(true);
      if (heading === undefined) continue;
      const headings = [...prose(await readFile(target, "utf8")).matchAll(/^#+ (.+)$/gm)].map((match) => fragment(match[1] ?? ""));
      expect(headings, `${page} links to ${link}`).toContain(heading);
    }
  });

  it("gives only commands that the program takes", async () => {
    const commands = [...text.matchAll(/(?:^|`)(?:\$ )?(?:npx )?keyworthy ((?:audit|check|combine|draft|explain|simulate|thin)\b[^`\n#]*)/gm)].map((match) => (match[1] ?? "").trim());
    for (const command of commands) {
      // Without its files a command must fail over them, and not over its own words. What stands for something is made something.
      const words = command.replace(/\\$/, "").replace(/…|\.\.\./g, "").replace(/\[[^\]]*\]/g, "").split(/\s+/).filter((word) => word !== "");
      if (words.length === 1) continue;
      tried.push(command);
      const around = listening(await folderWith({}));
      const status = await runProgram(words, around);
      expect(status, `${page}: keyworthy ${command}\n${around.told()}`).toBeLessThanOrEqual(2);
      expect(around.told(), `${page}: keyworthy ${command}`).not.toMatch(/unknown (?:option|command)|too many arguments|missing required|required option|conflicting|is not a (?:time|month|length)|not your fault/i);
    }
  });
});

describe("all pages together", () => {
  it("give commands of every kind", () => {
    expect(tried.length).toBeGreaterThan(15);
    for (const command of ["audit", "check", "combine", "draft", "explain", "simulate", "thin"]) expect(tried.some((words) => words.startsWith(command)), command).toBe(true);
  });
});
