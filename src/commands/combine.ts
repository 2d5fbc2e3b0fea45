import { join, relative, resolve } from "node:path";
import { InputError, type Problem } from "../ground/problem.js";
import { findFinished, type Finished } from "./finished-audits.js";
import { compareFleet, fleetText, writeFleet } from "./fleet-folder.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/** What the command line asks of `keyworthy combine`. */
export interface CombineRequest {
  /** Folders with finished audits in them or below them. */
  readonly folders: readonly string[];
  readonly out: string;
  readonly leaveOutBroken: boolean;
  readonly quiet: boolean;
}

/**
 * Merges finished audits of sites, months and machines into the fleet result that one run over all of them would give.
 * A broken audit is named and stops the command; with `leaveOutBroken` the result names it instead.
 */
export async function runCombine(request: CombineRequest, around: Surroundings): Promise<ExitStatus> {
  const finished: Finished[] = [];
  const broken: Problem[] = [];
  for (const folder of request.folders) {
    const found = await findFinished(resolve(around.folder, folder), around.folder);
    finished.push(...found.finished);
    broken.push(...found.broken);
    if (found.finished.length + found.broken.length === 0) {
      throw new InputError([{ code: "result-broken", what: "There is no finished audit in this folder or below it", file: folder, mend: "name the folder an audit was written to" }]);
    }
  }
  if (broken.length > 0 && !request.leaveOutBroken) throw new InputError(broken);
  if (finished.length === 0) throw new InputError(broken);
  const fleet = compareFleet(finished.map(({ counts }) => counts), broken.map(({ file, what }) => ({ what: file ?? "a part", why: what })), around);
  const target = resolve(around.folder, request.out);
  await writeFleet(fleet, target);
  if (!request.quiet) around.say(fleetText(fleet, relative(around.folder, join(target, "fleet.html"))));
  return fleet.parts.every(({ rules }) => rules.every(({ verdict }) => verdict === "clear to enable")) ? 0 : 3;
}
