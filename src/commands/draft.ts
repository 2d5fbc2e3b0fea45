import { access, open } from "node:fs/promises";
import { basename, dirname, relative, resolve } from "node:path";
import { draftSite } from "../draft/draft-site.js";
import { draftTable } from "../draft/draft-table.js";
import { InputError } from "../ground/problem.js";
import { sampleExports } from "../intake/sample-exports.js";
import { makeProgress } from "./progress.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/** It says what sensors and people there are: readable by its owner alone, as everything Keyworthy writes. */
const PRIVATE_FILE = 0o600;

/** `keyworthy draft` as asked for on the command line. */
export interface DraftRequest {
  /** Paths or globs of exports. */
  readonly exports: readonly string[];
  /** Where the site file goes; null: to the standard output. */
  readonly out: string | null;
  readonly quiet: boolean;
}

/** Looks at exports and writes a first site file. An existing file is never overwritten: it may be somebody's work. */
export async function runDraft(request: DraftRequest, around: Surroundings): Promise<ExitStatus> {
  const target = request.out === null ? null : resolve(around.folder, request.out);
  if (target !== null) await refuseExisting(target, request.out!);
  const folder = target === null ? around.folder : dirname(target);
  const progress = makeProgress(around, request.quiet);
  // The site file names its exports relative to its own folder.
  const names = request.exports.map((name) => relative(folder, resolve(around.folder, name)));
  const samples = await sampleExports(names, folder, (file) => progress.step(`looking at ${file}`));
  progress.step("working out what they show");
  const draft = draftSite(samples, { site: basename(folder) || "home", file: request.out ?? "site.yaml" });
  progress.clear();
  if (target === null) around.say(draft.yaml);
  else await writeNew(target, draft.yaml, request.out!);
  if (request.quiet) return 0;
  // Without --out the standard output is the file, and nothing else may stand in it.
  const tell = target === null ? around.tell : around.say;
  tell([
    "",
    draftTable(draft, target === null ? around.tellsTerminal : around.colour || around.tellsTerminal),
    "",
    ...draft.open.map((question) => `  left open: ${question}`),
    `${draft.open.length === 0 ? "Nothing is left open" : draft.open.length === 1 ? "1 thing is left open" : `${draft.open.length} things are left open`}${target === null ? "" : ` in ${request.out}`}${draft.problems.length > 0 ? `; the file does not load before ${draft.open.length === 1 ? "it is" : "they are"} filled in` : ""}.`,
    "",
  ].join("\n"));
  return 0;
}

async function refuseExisting(target: string, name: string): Promise<void> {
  const exists = await access(target).then(() => true, () => false);
  if (exists) throw new InputError([{ code: "output-exists", what: "The site file exists, and a draft is not worth overwriting it", file: name, mend: "name another file with --out" }]);
}

async function writeNew(target: string, text: string, name: string): Promise<void> {
  const file = await open(target, "wx", PRIVATE_FILE).catch((error: unknown) => {
    throw new InputError([{ code: "output-exists", what: `The site file cannot be written (${error instanceof Error ? error.message : String(error)})`, file: name, mend: "name another file with --out" }]);
  });
  try {
    await file.writeFile(text);
    await file.sync();
  } finally {
    await file.close();
  }
}
