import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import type { BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { findFinished } from "../../src/commands/finished-audits.js";
import { audit } from "../../src/index.js";
import { renderReport } from "../../src/report/render.js";
import { absent, openedChromium } from "./chromium.js";
import { fontSets, onlyFonts } from "./fonts.js";

/** What a page may take beyond its target before this fails. */
const ROOM = 1.1;

/**
 * How much there is to read, to scroll, to tab through and to print, of both sample reports as they open: as `npm run demo` makes them,
 * with the months before, and the household's first month by itself. The targets are our own: a person must know in one screen whether
 * to turn a rule on.
 */
const samples = [
  { name: "household", period: "2026-10", earlier: null, height: 4000, words: 1500, bytes: 700_000 },
  { name: "household", period: "2026-10", earlier: "household-earlier", height: 4000, words: 1500, bytes: 700_000 },
  { name: "yard", period: "2026-03", earlier: "yard-earlier", height: 4000, words: 1500, bytes: 700_000 },
];

describe.skipIf(absent).each(samples.flatMap((sample) => fontSets.map((fonts) => ({ ...sample, fonts }))))("the report on the sample $name with $earlier, set in $fonts", ({ name, period, earlier, fonts, ...target }) => {
  let folder: string;
  let context: BrowserContext;
  let html: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "targets-"));
    const before = earlier === null ? {} : { earlier: (await findFinished(resolve("sample-data", earlier), resolve("."))).finished.map(({ counts }) => counts) };
    html = await renderReport(await audit(resolve(`sample-data/${name}/site.yaml`), { period, ...before }));
    await writeFile(join(folder, "report.html"), html);
    context = await openedChromium(join(folder, "profile"), await onlyFonts(fonts, folder));
  }, 120_000);

  afterAll(async () => {
    await context.close();
    await rm(folder, { recursive: true, force: true });
  });

  async function opened(width: number, height: number): Promise<Page> {
    const page = await context.newPage();
    await page.setViewportSize({ width, height });
    await page.goto(pathToFileURL(join(folder, "report.html")).href);
    return page;
  }

  const wordsIn = (page: Page, selector: string, without = "svg"): Promise<number> =>
    page.evaluate(`(() => {
      const copy = document.querySelector(${JSON.stringify(selector)}).cloneNode(true);
      for (const one of copy.querySelectorAll(${JSON.stringify(`${without}, .said, script, style`)})) one.remove();
      return copy.textContent.split(/\\s+/).filter(Boolean).length;
    })()`);

  it("is no taller and no longer than its targets, and answers in the first screen", async () => {
    const page = await opened(1280, 900);
    const height = await page.evaluate<number>("document.documentElement.scrollHeight");
    const words = await page.evaluate<number>("document.body.innerText.split(/\\s+/).filter(Boolean).length");
    expect(height).toBeLessThanOrEqual(target.height * ROOM);
    expect(words).toBeLessThanOrEqual(target.words * ROOM);
    expect(await page.evaluate("document.querySelector('#answer').getBoundingClientRect().bottom")).toBeLessThanOrEqual(900);
    expect(await wordsIn(page, "#answer")).toBeLessThanOrEqual(250 * ROOM);
    await page.close();
  });

  it("says of an open rule no more than somebody reads at once, and shows it on one screen", async () => {
    const page = await opened(1280, 900);
    const rules = await page.evaluate<{ id: string; height: number }[]>("[...document.querySelectorAll('section.rule')].map((one) => ({ id: one.id, height: one.getBoundingClientRect().height }))");
    expect(rules.length).toBeGreaterThan(0);
    for (const { id, height } of rules) {
      expect(height).toBeLessThanOrEqual(900);
      expect(await wordsIn(page, `#${id}`, "svg, .folds")).toBeLessThanOrEqual(150 * ROOM);
    }
    await page.close();
  });

  it("has every verdict in the first screen of a phone", async () => {
    const page = await opened(390, 844);
    const bottoms = await page.evaluate<number[]>("[...document.querySelectorAll('#answer .row .who b')].map((one) => one.getBoundingClientRect().bottom)");
    expect(bottoms.length).toBeGreaterThan(0);
    expect(Math.max(...bottoms)).toBeLessThanOrEqual(844);
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(390);
    await page.close();
  });

  it("writes no text of a picture smaller than 12 px on a phone", async () => {
    const page = await opened(390, 844);
    await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    const small = await page.evaluate<string[]>(`[...document.querySelectorAll("svg text")].filter((one) => one.checkVisibility()).flatMap((one) => {
      const { a, b } = one.getScreenCTM();
      const scale = Math.hypot(a, b);
      const size = parseFloat(getComputedStyle(one).fontSize) * scale;
      return size < 11.95 ? [one.textContent + " " + size] : [];
    })`);
    expect(small).toEqual([]);
    await page.close();
  });

  it("has few enough stops for the keyboard before the first fold is opened", async () => {
    const page = await opened(1280, 900);
    const stops = await page.evaluate<number>(`[...document.querySelectorAll("a[href], summary, button, [tabindex='0']")].filter((one) => one.checkVisibility({ contentVisibilityAuto: true })).length`);
    expect(stops).toBeLessThanOrEqual(40 * ROOM);
    await page.close();
  });

  it("fits on five pages as it opens", async () => {
    const page = await opened(1280, 900);
    const pages = ((await page.pdf({ preferCSSPageSize: true, format: "A4" })).toString("latin1").match(/\/Type \/Page\b/g) ?? []).length;
    expect(pages).toBeLessThanOrEqual(5);
    await page.close();
  });

  it("is small enough to send", () => {
    expect(Buffer.byteLength(html)).toBeLessThanOrEqual(target.bytes * ROOM);
  });
});
