import { readFile } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { gzipSync } from "node:zlib";
import { InputError } from "../ground/problem.js";
import { runScenario } from "../simulate/run.js";
import { parseScenario } from "../simulate/scenario.js";
import { oneLine } from "./one-line.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";
import { beginWholeFolder, refuseStrangers } from "./whole-folder.js";

/** Writes the exports, the site file and the complete true diary of an invented site into a new folder. */
export async function runSimulate(request: { readonly scenarioFile: string; readonly out: string; readonly quiet: boolean }, around: Surroundings): Promise<ExitStatus> {
  const path = resolve(around.folder, request.scenarioFile);
  const text = await readFile(path, "utf8").catch((error: unknown) => {
    throw new InputError([{ code: "file-missing", what: `The scenario file cannot be read (${error instanceof Error ? error.message : String(error)})`, file: request.scenarioFile, mend: "check the path" }]);
  });
  const { files } = runScenario(parseScenario(text, request.scenarioFile));
  const target = resolve(around.folder, request.out);
  const ours = [...new Set([...files.keys()].map((name) => name.split("/")[0] ?? name))];
  await refuseStrangers(target, ours);
  const folder = await beginWholeFolder(dirname(target));
  try {
    for (const [name, content] of files) await folder.write(name, name.endsWith(".gz") ? gzipSync(content) : content);
    await folder.finish(target, ours);
  } catch (error) {
    await folder.abandon();
    throw error;
  }
  if (!request.quiet) around.say(`${files.size} files written to ${oneLine(request.out)}\n`);
  return 0;
}
