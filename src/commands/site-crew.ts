import { existsSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { Worker } from "node:worker_threads";
import { InputError, type Problem } from "../ground/problem.js";
import { makeChartShapes } from "../report/charts/chart-shapes.js";
import type { RuleSpec, Site } from "../site/site.js";
import { auditInto, type AuditOutcome, type AuditRequest, type AuditRun } from "./audit-site.js";
import { makeProgress } from "./progress.js";
import type { Surroundings } from "./surroundings.js";

/** From so many sites on another thread is worth its start. Our own choice. */
const SITES_A_THREAD = 4;
/** Each takes some hundred megabytes once it draws. Our own choice. */
const MOST_THREADS = 8;

/** What an audit makes and drops again fits into this: with what a thread has by default, a twentieth of the time goes into moving it about. */
const YOUNG_MB = 96;

/** What a thread is asked: one site at a time. Everything is plain data. */
export interface SiteTask {
  readonly index: number;
  readonly site: Site;
  readonly tried: readonly RuleSpec[];
  readonly request: AuditRequest;
  readonly run: Omit<AuditRun, "shapes" | "begin">;
  readonly folder: string;
  readonly now: number;
}

/** What it answers: the outcome or what is wrong with the input, and what is to be told besides. */
export interface SiteAnswer {
  readonly index: number;
  readonly told: readonly string[];
  readonly result: AuditOutcome | { readonly problems: readonly Problem[] };
}

type Done = (site: Site, result: SiteAnswer["result"]) => void;

/** Audits all sites, several at a time where there are enough, and calls `done` of each in the order of the sites. */
export async function auditEach(
  sites: readonly Site[],
  tried: ReadonlyMap<Site, readonly RuleSpec[]>,
  request: AuditRequest,
  around: Surroundings,
  { names, round, begin }: Pick<AuditRun, "names" | "round" | "begin">,
  done: Done,
  script: URL = new URL("./site-thread.js", import.meta.url),
): Promise<void> {
  const threads = Math.min(MOST_THREADS, availableParallelism(), Math.floor(sites.length / SITES_A_THREAD));
  const run = { diaries: sites.filter(({ diary }) => diary.length > 0).map(({ file, folder, diary }) => ({ file, folder, diary })), names, round };
  // The steps of several threads at once add up to no time that anybody waited.
  if (threads < 2 || request.timings || !existsSync(fileURLToPath(script))) {
    const shapes = makeChartShapes();
    for (const site of sites) done(site, await auditOne(site, tried.get(site) ?? [], request, around, { ...run, shapes, showProgress: true, begin }));
    return;
  }
  const progress = makeProgress(around, request.quiet);
  const tasks = sites.map((site, index): SiteTask => ({ index, site, tried: tried.get(site) ?? [], request, run: { ...run, showProgress: false }, folder: around.folder, now: around.now() }));
  const answers = new Map<number, SiteAnswer>();
  let next = 0;
  await spreadOver(threads, script, tasks, (answer) => {
    answers.set(answer.index, answer);
    progress.step(`${answers.size} of ${sites.length} sites audited`);
    for (let ready = answers.get(next); ready !== undefined; ready = answers.get(next)) {
      const site = sites[next];
      progress.clear();
      for (const text of ready.told) around.tell(text);
      if (site !== undefined) done(site, ready.result);
      // Its counts are kept by whoever was told; nothing else is.
      answers.set(next, { ...ready, told: [] });
      next += 1;
    }
  });
  progress.clear();
}

/** Audits one site; wrong input is an answer too. */
export async function auditOne(site: Site, tried: readonly RuleSpec[], request: AuditRequest, around: Surroundings, run: AuditRun): Promise<SiteAnswer["result"]> {
  try {
    return await auditInto(site, tried, request, around, run);
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return { problems: error.problems };
  }
}

/** Hands the tasks to threads, in their order, each as soon as it is free. The first fault of the program ends all. */
async function spreadOver(threads: number, script: URL, tasks: readonly SiteTask[], answered: (answer: SiteAnswer) => void): Promise<void> {
  const waiting = [...tasks];
  const crew = Array.from({ length: threads }, () => new Worker(script, { resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB } }));
  try {
    await Promise.all(
      crew.map(
        (worker) =>
          new Promise<void>((resolve, reject) => {
            const askNext = (): void => {
              const task = waiting.shift();
              if (task === undefined) resolve();
              else worker.postMessage(task);
            };
            worker.on("error", reject);
            worker.on("exit", (code) => {
              reject(new Error(`a thread that audited sites ended with ${code}`));
            });
            worker.on("message", (answer: SiteAnswer | { readonly failed: string }) => {
              if ("failed" in answer) {
                reject(new Error(answer.failed));
                return;
              }
              answered(answer);
              askNext();
            });
            askNext();
          }),
      ),
    );
  } finally {
    await Promise.all(crew.map((worker) => worker.terminate()));
  }
}
