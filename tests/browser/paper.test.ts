import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { BrowserContext } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderFleet } from "../../src/report/fleet-page.js";
import { renderReport } from "../../src/report/render.js";
import { exampleFindings, exampleFleet } from "../report/example-findings.js";
import { wideFleet } from "../report/example-fleets.js";
import { examplePast } from "../report/example-months.js";
import { absent, openedChromium } from "./chromium.js";
import { fontSets, onlyFonts } from "./fonts.js";
import { printedPages, type PrintedPage, spaceless } from "./printed.js";

/** The margin left and right that style-print.ts asks for, in points; half a point for how the widths of letters are rounded. */
const MARGIN_POINTS = (14 / 25.4) * 72 - 0.5;

interface Sheet {
  readonly head: string;
  readonly rows: readonly string[];
  readonly total: string | null;
}

const pages: Readonly<Record<string, () => Promise<string>>> = {
  household: () => renderReport(exampleFindings),
  depot: () => renderReport(exampleFleet),
  "earlier months": () => renderReport(examplePast),
  fleet: () => renderFleet(wideFleet),
};

/* What was printed is read from the PDF itself, not from the style that asked for it. Everything folded is opened first. */
describe.skipIf(absent).each(Object.keys(pages).flatMap((name) => fontSets.map((fonts) => ({ name, fonts }))))("the page on a $name, set in $fonts and printed to PDF with everything opened", ({ name, fonts }) => {
  let folder: string;
  let context: BrowserContext;
  let printed: PrintedPage[];
  let tables: Sheet[];

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "on-paper-"));
    await writeFile(join(folder, "page.html"), await pages[name]!());
    context = await openedChromium(join(folder, "profile"), await onlyFonts(fonts, folder));
    const page = await context.newPage();
    await page.goto(pathToFileURL(join(folder, "page.html")).href);
    await page.emulateMedia({ media: "print" });
    await page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })");
    tables = await page.evaluate<Sheet[]>(`(() => {
      // Words of drawings are no part of a row's text: the tags leave them out too.
      const textOf = (part) => { const copy = part.cloneNode(true); copy.querySelectorAll("svg").forEach((one) => one.remove()); return copy.textContent; };
      return [...document.querySelectorAll("table")].filter((one) => one.checkVisibility()).map((table) => ({
        head: textOf(table.tHead),
        rows: [...table.tBodies[0].rows].map(textOf),
        total: table.tFoot === null ? null : textOf(table.tFoot),
      }));
    })()`);
    tables = tables.map(({ head, rows, total }) => ({ head: spaceless(head), rows: rows.map(spaceless), total: total === null ? null : spaceless(total) }));
    printed = await printedPages(await page.pdf({ preferCSSPageSize: true, format: "A4", tagged: true }));
  });

  afterAll(async () => {
    await context.close();
    await rm(folder, { recursive: true, force: true });
  });

  it("has every row of every table whole on one page, and none twice, the total neither", () => {
    const whole = tables.flatMap(({ rows, total }) => [...rows, ...(total === null ? [] : [total])]);
    expect(whole.length).toBeGreaterThan(40);
    expect(printed.flatMap((page) => page.tables.flatMap(([, ...body]) => body.filter((row) => row !== ""))).toSorted()).toEqual(whole.toSorted());
  });

  it("repeats a table's head on every page on which the table goes on", () => {
    const headsOf = (row: string): string[] => tables.filter(({ rows, total }) => rows.includes(row) || total === row).map(({ head }) => head);
    const wrong: string[] = [];
    let continued = 0;
    for (const [index, page] of printed.entries()) {
      for (const [head = "", ...body] of page.tables) {
        const row = body.find((one) => one !== "");
        if (row === undefined) wrong.push(`page ${index + 1}: the head ${head} without a row`);
        else if (!headsOf(row).includes(head)) wrong.push(`page ${index + 1}: ${row} under the head ${head}`);
        if (body.findIndex((one) => one !== "") > 0) continued++;
      }
    }
    expect(wrong).toEqual([]);
    expect(continued).toBeGreaterThan(0);
  });

  it("lets no text run into the margins", () => {
    for (const [index, { width, texts }] of printed.entries()) {
      expect(texts.length).toBeGreaterThan(0);
      expect(texts.filter(({ left, right }) => left < MARGIN_POINTS || right > width - MARGIN_POINTS).map(({ text, left, right }) => `page ${index + 1}: ${text} from ${left.toFixed(1)} to ${right.toFixed(1)} of ${width}`)).toEqual([]);
    }
  });
});
