import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type axe from "axe-core";
import { type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderFleet } from "../../src/report/fleet-page.js";
import { renderReport } from "../../src/report/render.js";
import { emptyFindings } from "../report/empty-findings.js";
import { exampleFindings, exampleFleet } from "../report/example-findings.js";
import { smallFleet, wideFleet } from "../report/example-fleets.js";
import { examplePast } from "../report/example-months.js";
import { hostileNames, withNames } from "../report/hostile-findings.js";
import { absent, CHROMIUM, FLAGS, openedChromium } from "./chromium.js";

const axePath = createRequire(import.meta.url).resolve("axe-core/axe.min.js");

const pages = {
  example: exampleFindings,
  fleet: exampleFleet,
  empty: emptyFindings,
  past: examplePast,
  hostile: withNames(exampleFindings, Object.values(hostileNames).join(" ")),
  unbroken: withNames(exampleFindings, "x".repeat(500)),
};
const fleetPages = { sites: smallFleet, manySites: wideFleet };
type PageName = keyof typeof pages | keyof typeof fleetPages;
const looks = [360, 1440].flatMap((width) => (["light", "dark"] as const).map((colorScheme) => ({ width, colorScheme })));
const cases = Object.keys({ ...pages, ...fleetPages }).flatMap((name) => looks.map((look) => ({ name: name as PageName, ...look })));

describe.skipIf(absent)("the report in a browser", () => {
  let folder: string;
  let context: BrowserContext;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "report-in-browser-"));
    for (const [name, findings] of Object.entries(pages)) await writeFile(join(folder, `${name}.html`), await renderReport(findings));
    for (const [name, fleet] of Object.entries(fleetPages)) await writeFile(join(folder, `${name}.html`), await renderFleet(fleet));
    context = await openedChromium(join(folder, "profile"));
  });

  afterAll(async () => {
    await context.close();
    await rm(folder, { recursive: true, force: true });
  });

  const addressOf = (name: string): string => pathToFileURL(join(folder, `${name}.html`)).href;

  async function opened(name: string, look: { width: number; colorScheme: "light" | "dark" }): Promise<{ page: Page; heard: string[]; asked: string[] }> {
    const page = await context.newPage();
    const heard: string[] = [];
    const asked: string[] = [];
    page.on("console", (message) => heard.push(message.text()));
    page.on("pageerror", (error) => heard.push(String(error)));
    page.on("dialog", (dialog) => (heard.push(`dialog: ${dialog.message()}`), void dialog.dismiss()));
    page.on("request", (request) => asked.push(request.url()));
    await page.setViewportSize({ width: look.width, height: 900 });
    await page.emulateMedia({ colorScheme: look.colorScheme });
    await page.goto(addressOf(name));
    return { page, heard, asked };
  }

  it.each(cases)("$name at $width px, $colorScheme: asks for nothing, breaks no policy, does not scroll sideways", async ({ name, ...look }) => {
    const { page, heard, asked } = await opened(name, look);
    for (const folded of [true, false]) {
      if (!folded) await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
      expect(await page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")).toEqual([look.width, look.width]);
    }
    expect(asked).toEqual([addressOf(name)]);
    expect(heard).toEqual([]);
    expect(await page.locator("script").count()).toBe(1);
    expect(await page.locator("img,iframe,link,object").count()).toBe(0);
    await page.close();
  });

  it.each(looks)("at $width px, $colorScheme: shows the drawing that fits, in the page's own colours", async (look) => {
    const { page } = await opened("example", look);
    const shown = page.locator(`.chart .${look.width < 736 ? "narrow" : "wide"} svg`).first();
    await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    expect(await page.locator(".chart svg:visible").count()).toBe(await page.locator(".chart").count());
    expect(await shown.isVisible()).toBe(true);
    const ink = await page.evaluate("getComputedStyle(document.body).color");
    expect(await page.evaluate("getComputedStyle([...document.querySelectorAll('.moment .chart text')].find((one) => one.textContent === 'phone-mira')).fill")).toBe(ink);
    await page.close();
  });

  it.each(looks.flatMap((look) => ["example", "empty", "sites"].map((name) => ({ name, ...look }))))("$name at $width px, $colorScheme: axe finds nothing against WCAG 2.2 AA", async ({ name, ...look }) => {
    const browser = context.browser() ?? (await chromium.launch({ executablePath: CHROMIUM, args: FLAGS }));
    // The page's own policy would keep axe out; only this context lets it in.
    const lenient = await browser.newContext({ bypassCSP: true, colorScheme: look.colorScheme, viewport: { width: look.width, height: 900 } });
    const page = await lenient.newPage();
    await page.goto(addressOf(name));
    await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    await page.addScriptTag({ path: axePath });
    const { violations } = await page.evaluate<axe.AxeResults>("axe.run({ runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'] })");
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html.slice(0, 120)).slice(0, 3).join(" | ")}`)).toEqual([]);
    await lenient.close();
    if (context.browser() === null) await browser.close();
  });

  it("can be walked by keyboard, the skip link first", async () => {
    const { page } = await opened("example", { width: 1440, colorScheme: "light" });
    await page.keyboard.press("Tab");
    expect(await page.evaluate("document.activeElement.textContent.trim()")).toBe("Skip to the answer");
    expect(await page.evaluate("document.activeElement.getBoundingClientRect().top >= 0")).toBe(true);
    await page.keyboard.press("Enter");
    // The jump reaches the address a moment after the key; it must come.
    await page.waitForURL(/#answer$/, { timeout: 10_000 });
    expect(page.url()).toMatch(/#answer$/);
    await page.close();
  });

  it("sorts a table by its columns' heads, by mouse and keyboard, and brings back its own order", async () => {
    const { page } = await opened("fleet", { width: 1440, colorScheme: "light" });
    await page.locator(".appendix > details > summary").click();
    await page.locator("details:has(> #bays) > summary").click();
    const faults = async (): Promise<string[]> => page.locator("table:has(#bays-faults) tbody tr td:nth-child(3)").allTextContents();
    const asMade = await faults();
    const head = page.locator("table:has(#bays-faults) thead th:nth-child(3)");
    await head.locator("button").click();
    expect(await faults()).toEqual(asMade.toSorted((a, b) => Number(a) - Number(b)));
    expect(await head.getAttribute("aria-sort")).toBe("ascending");
    await page.keyboard.press("Enter");
    expect(await faults()).toEqual(asMade.toSorted((a, b) => Number(b) - Number(a)));
    expect(await head.getAttribute("aria-sort")).toBe("descending");
    await page.keyboard.press("Enter");
    expect(await faults()).toEqual(asMade);
    expect(await head.getAttribute("aria-sort")).toBe(null);
    await page.close();
  });

  it("can be read to the last word without script", async () => {
    const browser = context.browser() ?? (await chromium.launch({ executablePath: CHROMIUM, args: FLAGS }));
    const plain = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 1440, height: 900 } });
    const page = await plain.newPage();
    await page.goto(addressOf("fleet"));
    expect(await page.locator("thead button").count()).toBe(0);
    await page.locator(".appendix > details > summary").click();
    await page.locator("details:has(> #bays) > summary").click();
    expect(await page.locator("#bays-faults").isVisible()).toBe(true);
    expect(await page.locator("table:has(#bays-faults) tbody tr").count()).toBe(5);
    await page.locator("summary").first().click();
    expect(await page.locator("details").first().getAttribute("open")).not.toBe(null);
    await plain.close();
    if (context.browser() === null) await browser.close();
  });

  it("lets the keyboard reach the tables that are wider than the page, and no others", async () => {
    const { page } = await opened("example", { width: 360, colorScheme: "light" });
    await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    await expect.poll(() => page.locator(".scroll[tabindex]").count()).toBeGreaterThan(0);
    const boxes = await page.evaluate<{ wide: boolean; reached: boolean }[]>("[...document.querySelectorAll('.scroll')].map((one) => ({ wide: one.scrollWidth > one.clientWidth + 1, reached: one.tabIndex === 0 && one.getAttribute('role') === 'region' }))");
    expect(boxes.length).toBeGreaterThan(5);
    expect(boxes.filter(({ wide, reached }) => wide !== reached)).toEqual([]);
    await page.close();
  });

  it("opens the fold that a link leads to", async () => {
    const { page } = await opened("example", { width: 1440, colorScheme: "light" });
    await page.locator(".row a").nth(1).click();
    await expect.poll(() => page.evaluate("document.querySelector('details:has(> #rule-2)').open")).toBe(true);
    expect(await page.locator("#rule-2 .lead").isVisible()).toBe(true);
    await page.close();
  });

  it("prints what is open, and fits on paper", async () => {
    const { page } = await opened("example", { width: 1440, colorScheme: "dark" });
    const isShown = (): Promise<boolean> => page.evaluate("document.querySelector('#episodes-list').checkVisibility({ contentVisibilityAuto: true })");
    const pagesOf = async (): Promise<number> => ((await page.pdf({ preferCSSPageSize: true, format: "A4" })).toString("latin1").match(/\/Type \/Page\b/g) ?? []).length;
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    expect(await isShown()).toBe(false);
    expect(await pagesOf()).toBeLessThanOrEqual(5);
    await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    expect(await isShown()).toBe(true);
    expect(await page.evaluate("getComputedStyle(document.body).backgroundColor")).toBe("rgb(255, 255, 255)");
    // An A4 page less its margins: the wide drawings, and no table cut off.
    await page.setViewportSize({ width: 688, height: 900 });
    expect(await page.evaluate("document.documentElement.scrollWidth")).toBe(688);
    expect(await page.locator(".chart .wide svg:visible").count()).toBe(await page.locator(".chart").count());
    // Neither a row nor a figure is torn apart.
    expect(await page.evaluate("[...document.querySelectorAll('tr, figure')].every((one) => getComputedStyle(one).breakInside === 'avoid')")).toBe(true);
    expect(await pagesOf()).toBeGreaterThan(8);
    await page.close();
  });
});
