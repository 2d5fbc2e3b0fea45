/** A thread that audits sites, one after another, as the main thread asks. */
import { parentPort } from "node:worker_threads";
import { makeChartShapes } from "../report/charts/chart-shapes.js";
import type { Surroundings } from "./surroundings.js";
import { auditOne, type SiteAnswer, type SiteTask } from "./site-crew.js";

const port = parentPort;
if (port === null) throw new Error("this file is the beginning of a thread, not of a program");

const shapes = makeChartShapes();

port.on("message", (task: SiteTask) => {
  void answer(task);
});

async function answer({ index, site, tried, request, run, folder, now }: SiteTask): Promise<void> {
  const told: string[] = [];
  const around: Surroundings = {
    say: (text) => void told.push(text), tell: (text) => void told.push(text), tellsTerminal: false, colour: false, terminal: null, now: () => now, folder,
  };
  try {
    const result = await auditOne(site, tried, request, around, { ...run, shapes, begin: () => undefined });
    port?.postMessage({ index, told, result } satisfies SiteAnswer);
  } catch (error) {
    port?.postMessage({ failed: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
}
