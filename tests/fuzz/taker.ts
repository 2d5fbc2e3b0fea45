/**
 * A process that takes inputs of one format, one after another, as `fuzz.ts` asks; it may hang or die over any of them.
 * Arguments: format, seed, first input, how many, seconds it may take.
 */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inputOf, prepared } from "./target.js";
import { targetOf } from "./targets.js";

/** What the process tells of. `nth` begins; what came of it; or that it ends, with the most memory it took. */
export type Told =
  | { readonly kind: "begins"; readonly nth: number }
  | { readonly kind: "came"; readonly nth: number; readonly came: "read" | "refused"; readonly ms: number }
  | { readonly kind: "fault"; readonly nth: number; readonly what: string }
  | { readonly kind: "done"; readonly megabytes: number };

const tell = (told: Told): void => void process.send?.(told);
const [name = "", seed = "", first = "", count = "", seconds = ""] = process.argv.slice(2);
const folder = await mkdtemp(join(tmpdir(), "keyworthy-fuzz-"));
const target = await targetOf(name);
await prepared(folder, target);
const until = performance.now() + Number(seconds) * 1000;
for (let nth = Number(first); nth < Number(first) + Number(count) && performance.now() < until; nth++) {
  await writeFile(join(folder, target.file), inputOf(target, Number(seed), nth));
  tell({ kind: "begins", nth });
  const begun = performance.now();
  try {
    tell({ kind: "came", nth, came: await target.take(folder, nth), ms: performance.now() - begun });
  } catch (error) {
    tell({ kind: "fault", nth, what: error instanceof Error ? (error.stack ?? error.message) : String(error) });
  }
}
await rm(folder, { recursive: true });
tell({ kind: "done", megabytes: process.resourceUsage().maxRSS / 1024 });
process.disconnect();
