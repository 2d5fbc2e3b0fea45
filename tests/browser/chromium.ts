import { existsSync } from "node:fs";
import { type BrowserContext, chromium } from "playwright-core";

/** Debian's Chromium. */
export const CHROMIUM = "/usr/bin/chromium";

/** Nothing is asked for but the page itself. */
export const FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

/** Without a browser these tests are left out on a desk, but not where a machine decides: there they must fail. */
export const absent = !existsSync(CHROMIUM) && (process.env.CI ?? "") === "";

/** A browser of its own, with its profile in `folder`; `env` are its surroundings, if not those of this process. */
export function openedChromium(folder: string, env?: Record<string, string>): Promise<BrowserContext> {
  return chromium.launchPersistentContext(folder, { executablePath: CHROMIUM, args: FLAGS, ...(env === undefined ? {} : { env }) });
}
