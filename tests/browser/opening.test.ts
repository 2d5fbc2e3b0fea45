import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { BrowserContext } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { renderReport } from "../../src/report/render.js";
import { largeFleet } from "../report/large-fleet.js";
import { absent, openedChromium } from "./chromium.js";

const MOST_MS = 2000;
const TRIES = 3;
const viewport = { width: 1440, height: 900 };

/*
 * How long a reader waits for the report on 200 bays: from the start of the navigation to the end of the load event and the
 * first contentful paint, whichever is later, by the browser's own clock. A tab of its own each time, in a browser that is
 * running already; the file lies on the disk. The bar is for the machine the tests run on, as it is: nothing is allowed for
 * one that is busy but the median of three tries. Its size is held in tests/report/large-fleet.test.ts.
 */
describe.skipIf(absent)("the report on 200 bays in a browser", () => {
  let folder: string;
  let context: BrowserContext;
  let html: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "large-report-"));
    html = await renderReport(largeFleet(200));
    await writeFile(join(folder, "report.html"), html);
    context = await openedChromium(join(folder, "profile"));
  });

  afterAll(async () => {
    await context.close();
    await rm(folder, { recursive: true, force: true });
  });

  async function opening(): Promise<{ loaded: number; painted: number }> {
    const page = await context.newPage();
    await page.setViewportSize(viewport);
    await page.goto(pathToFileURL(join(folder, "report.html")).href, { waitUntil: "load" });
    const told = await page.evaluate<{ loaded: number; painted: number }>(`new Promise((tell) => {
      const look = () => {
        const [paint] = performance.getEntriesByName("first-contentful-paint");
        const { loadEventEnd } = performance.getEntriesByType("navigation")[0];
        if (paint === undefined || loadEventEnd === 0) setTimeout(look, 10);
        else tell({ loaded: loadEventEnd, painted: paint.startTime });
      };
      look();
    })`);
    expect(await page.locator("table:has(#bays-faults) tbody tr").count()).toBe(200);
    await page.close();
    return told;
  }

  it(`is loaded and painted within ${MOST_MS} ms`, async () => {
    const tries: { loaded: number; painted: number }[] = [];
    for (let index = 0; index < TRIES; index++) tries.push(await opening());
    const [, median = Infinity] = tries.map(({ loaded, painted }) => Math.max(loaded, painted)).toSorted((a, b) => a - b);
    const text = tries.map(({ loaded, painted }) => `load ${Math.round(loaded)} ms, first paint ${Math.round(painted)} ms`).join("; ");
    process.stdout.write(`report on 200 bays, ${(Buffer.byteLength(html) / 1e6).toFixed(2)} MB: ${text}; median ${Math.round(median)} ms\n`);
    expect(tries.every(({ loaded, painted }) => loaded > 0 && painted > 0)).toBe(true);
    expect(median).toBeLessThan(MOST_MS);
  });
});
