import { render } from "preact-render-to-string";
import type { Findings } from "../result/schema.js";
import { dayClock } from "./day-clock.js";
import { drawAll } from "./drawings.js";
import { localClock } from "./local-time.js";
import { Page } from "./parts/page.js";
import { withVisibleText } from "./visible-text.js";

/**
 * The report: one HTML page that needs nothing else, runs nothing and asks for nothing. A pure function of the findings:
 * the same findings give the same page, to the byte.
 * Steps: 1. what cannot be seen in names is made visible; 2. the charts are drawn; 3. the page is written, every text escaped.
 */
export async function renderReport(findings: Findings): Promise<string> {
  const shown = withVisibleText(findings);
  const clock = shown.redacted ? dayClock : localClock(shown.site.timeZone);
  const drawings = await drawAll(shown, clock);
  return `<!doctype html>\n${render(<Page findings={shown} drawings={drawings} clock={clock} />)}\n`;
}
