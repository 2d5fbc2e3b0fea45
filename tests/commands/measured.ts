import { spawnSync } from "node:child_process";
import { join } from "node:path";

const program = join(import.meta.dirname, "../../.build/cli.js");
/** Tells of a run of the program how much memory it took at most. */
const measuring = `data:text/javascript,${encodeURIComponent("process.on('exit',()=>process.stderr.write('\\nPEAK '+process.resourceUsage().maxRSS+'\\n'))")}`;

/** What came of a run, with what it took. */
export interface Ran {
  readonly status: number | null;
  readonly told: string;
  readonly peakMegabytes: number;
  readonly seconds: number;
}

/** Runs the built program; it is ended after half a minute, or as long as is given. */
export function ran(folder: string, words: readonly string[], mostMs = 30_000): Ran {
  const begun = performance.now();
  const { status, stderr } = spawnSync(process.execPath, ["--import", measuring, program, ...words], { cwd: folder, encoding: "utf8", timeout: mostMs, killSignal: "SIGKILL" });
  const peak = /\nPEAK (\d+)\n/.exec(stderr)?.[1];
  return { status, told: stderr.replace(/\nPEAK \d+\n/, "").replaceAll(folder, "FOLDER"), peakMegabytes: Number(peak) / 1024, seconds: (performance.now() - begun) / 1000 };
}

/** An ordinary refusal takes 90 MB and a second; a shared machine may need longer. */
export const MOST_MEGABYTES = 200;
/** As {@link MOST_MEGABYTES}. */
export const MOST_SECONDS = 20;
