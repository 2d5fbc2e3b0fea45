import { dirname, resolve } from "node:path";
import { gzipSync } from "node:zlib";
import { InputError } from "../ground/problem.js";
import { readSmallFile } from "../ground/small-file.js";
import { runScenario } from "../simulate/run.js";
import { parseScenario } from "../simulate/scenario.js";
import { oneLine } from "./one-line.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { beginWholeFolder } from "./whole-folder.js";
import { refuseForeign, type ResultOf } from "./written-list.js";

/** Far larger than any scenario. */
const LARGEST_SCENARIO_BYTES = 16_000_000;

/** Writes the exports, the site file and the complete true diary of an invented site into a new folder. */
export async function runSimulate(request: { readonly scenarioFile: string; readonly out: string; readonly quiet: boolean }, around: Surroundings): Promise<ExitStatus> {
  const path = resolve(around.folder, request.scenarioFile);
  const bytes = await readSmallFile(path, { name: request.scenarioFile, expected: "a scenario file", mostBytes: LARGEST_SCENARIO_BYTES }).catch((error: unknown) => {
    if (error instanceof InputError) throw error;
    throw new InputError([{ code: "file-missing", what: `The scenario file cannot be read (${error instanceof Error ? error.message : String(error)})`, file: request.scenarioFile, mend: "check the path" }]);
  });
  const scenario = parseScenario(bytes.toString("utf8"), request.scenarioFile);
  const { files } = runScenario(scenario);
  const target = resolve(around.folder, request.out);
  const of: ResultOf = { result: "scenario", sites: [scenario.scenario], period: null };
  await refuseForeign(target, of);
  const folder = await beginWholeFolder(dirname(target));
  try {
    for (const [name, content] of files) await folder.write(name, name.endsWith(".gz") ? gzipSync(content) : content);
    await folder.finish(target, of);
  } catch (error) {
    await folder.abandon();
    throw error;
  }
  if (!request.quiet) around.say(`${files.size} files written to ${oneLine(request.out)}\n`);
  return 0;
}
