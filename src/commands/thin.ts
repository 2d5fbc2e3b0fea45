import { dirname, join, relative, resolve } from "node:path";
import { DateTime } from "luxon";
import { InputError, type Problem } from "../ground/problem.js";
import { COUNTS_FILE, findFinished } from "./finished-audits.js";
import { keptAnswers, TO_CONFIRM_FILE, type KeptAnswers } from "./kept-answers.js";
import { oneLine } from "./one-line.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { beginWholeFolder } from "./whole-folder.js";
import { refuseForeign, type ResultOf } from "./written-list.js";
import { jsonText } from "../result/json-text.js";
import { type Counts, countsSchema } from "../result/counts.js";

/** `keyworthy thin` as asked for on the command line. */
export interface ThinRequest {
  readonly folders: readonly string[];
  /** A month, `2026-06`: audits that ended when it began, or earlier, are thinned. */
  readonly before: string;
  /** Says what would be thinned and touches nothing. */
  readonly only: "show" | null;
  readonly quiet: boolean;
}

/**
 * Thins old audits to their counts: deletes the report, the findings and all tables, and with them every instant at which
 * somebody came or left; keeps what later comparisons need, and a to-confirm.csv in which somebody wrote. Each folder is thinned completely or not at all; one that holds anything of yours stays as it
 * is, and the others are thinned. Only another
 * audit of the exports brings the rest back.
 */
export async function runThin(request: ThinRequest, around: Surroundings): Promise<ExitStatus> {
  if (!/^\d{4}-(0[1-9]|1[0-2])$/.test(request.before)) {
    throw new InputError([{ code: "command-line", what: `--before ${request.before} is not a month`, expected: "a month such as 2026-06", found: request.before }]);
  }
  let found = 0;
  const refused: Problem[] = [];
  for (const place of request.folders) {
    const { finished, broken } = await findFinished(resolve(around.folder, place), around.folder);
    if (broken.length > 0) throw new InputError(broken);
    for (const { folder, counts } of finished) {
      const begin = DateTime.fromISO(`${request.before}-01T00:00`, { zone: counts.site.timeZone });
      if (counts.period.to > begin.toMillis()) continue;
      found += 1;
      let kept: KeptAnswers | null;
      try {
        kept = await thinOne(resolve(around.folder, folder), counts, request.only);
      } catch (error) {
        if (!(error instanceof InputError)) throw error;
        // The others are thinned all the same.
        refused.push(...error.problems.map((one) => ({ ...one, file: folder, mend: "move what is yours elsewhere, and thin again" })));
        continue;
      }
      if (!request.quiet) around.say(`${request.only === "show" ? "would thin" : "thinned"} ${oneLine(folder)}\n`);
      if (request.only !== "show" && kept !== null && !request.quiet) around.tell(`${oneLine(join(folder, TO_CONFIRM_FILE))} stays: you wrote in it. Delete it yourself when it is no longer needed.\n`);
    }
  }
  if (refused.length > 0) throw new InputError(refused);
  if (found === 0 && !request.quiet) around.say(`no audit in ${oneLine(request.folders.map((folder) => relative("", folder)).join(", "))} ended before ${request.before}\n`);
  return 0;
}

/** Thins one folder, or only sees whether it may be; gives the answers that it leaves there. Throws `InputError` where something in it is not ours. */
async function thinOne(target: string, counts: Counts, only: ThinRequest["only"]): Promise<KeptAnswers | null> {
  const of: ResultOf = { result: "audit", sites: [counts.site.name], period: counts.period.label, mayChange: [TO_CONFIRM_FILE] };
  await refuseForeign(target, of);
  const kept = await keptAnswers(target);
  if (only === "show") return kept;
  const folder = await beginWholeFolder(dirname(target));
  try {
    await folder.write(COUNTS_FILE, jsonText(countsSchema, counts));
    if (kept !== null) await folder.write(TO_CONFIRM_FILE, kept.bytes);
    await folder.finish(join(target), of);
    return kept;
  } catch (error) {
    await folder.abandon();
    throw error;
  }
}
