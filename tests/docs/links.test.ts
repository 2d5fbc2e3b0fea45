import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { dirname, join, normalize } from "node:path";
import { describe, expect, it } from "vitest";
import { pages, pageText, proseOf } from "./page-commands.js";

/** The fragment that a heading gets where Markdown is shown with links to headings. */
const fragment = (heading: string): string =>
  heading
    .toLowerCase()
    .replace(/[^\p{L}\p{N} _-]/gu, "")
    .trim()
    .replace(/ /g, "-");

describe.each(pages)("%s", (page) => {
  const links = [...proseOf(pageText(page)).matchAll(/\]\(([^)\s]+)\)/g)].map((match) => match[1] ?? "");

  it("links to what there is, down to the heading", async () => {
    for (const link of links.filter((target) => !/^[a-z]+:/.test(target))) {
      const [path = "", heading] = link.split("#");
      const target = path === "" ? page : normalize(join(dirname(page), path));
      expect(existsSync(target), `${page} links to ${link}`).toBe(true);
      if (heading === undefined) continue;
      const headings = [...proseOf(await readFile(target, "utf8")).matchAll(/^#+ (.+)$/gm)].map((match) => fragment(match[1] ?? ""));
      expect(headings, `${page} links to ${link}`).toContain(heading);
    }
  });
});
