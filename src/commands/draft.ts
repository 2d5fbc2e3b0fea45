import { access, open, rm } from "node:fs/promises";
import { basename, dirname, relative, resolve } from "node:path";
import { draftSite, type SiteDraft } from "../draft/draft-site.js";
import { draftTable } from "../draft/draft-table.js";
import { InputError } from "../ground/problem.js";
import { sampleExports } from "../intake/sample-exports.js";
import { makeProgress } from "./progress.js";
import { oneLine } from "./one-line.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/** The site file names sensors and people: only its owner may read it, as everything Keyworthy writes. */
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
  const out = request.out === null ? null : { name: request.out, path: resolve(around.folder, request.out) };
  if (out !== null) await refuseExisting(out.path, out.name);
  const folder = out === null ? around.folder : dirname(out.path);
  const progress = makeProgress(around, request.quiet);
  // The site file names its exports relative to its own folder.
  const names = request.exports.map((name) => relative(folder, resolve(around.folder, name)));
  const samples = await sampleExports(names, folder, (file) => progress.step(`looking at ${file}`));
  progress.step("working out what they show");
  const draft = draftSite(samples, { site: basename(folder) || "home", file: request.out ?? "site.yaml" });
  progress.clear();
  if (out === null) around.say(draft.yaml);
  else await writeNew(out.path, draft.yaml, out.name);
  if (request.quiet) return 0;
  // Without --out the standard output is the file: everything else goes elsewhere.
  const tell = out === null ? around.tell : around.say;
  tell([
    "",
    draftTable(draft, out === null ? around.tellsTerminal : around.colour || around.tellsTerminal),
    "",
    ...draft.open.map((question) => `  left open: ${oneLine(question)}`),
    oneLine(leftOpenText(draft, out?.name ?? null)),
    "",
  ].join("\n"));
  return 0;
}

function leftOpenText({ open, problems }: SiteDraft, file: string | null): string {
  const left = open.length === 0 ? "Nothing is left open" : open.length === 1 ? "1 thing is left open" : `${open.length} things are left open`;
  const loads = problems.length > 0 ? `; the file does not load before ${open.length === 1 ? "it is" : "they are"} filled in` : "";
  return `${left}${file === null ? "" : ` in ${file}`}${loads}.`;
}

async function refuseExisting(target: string, name: string): Promise<void> {
  const exists = await access(target).then(() => true, () => false);
  if (exists) throw new InputError([{ code: "output-exists", what: "The site file exists already, and a draft does not overwrite it", file: name, mend: "name another file with --out" }]);
}

async function writeNew(target: string, text: string, name: string): Promise<void> {
  const file = await open(target, "wx", PRIVATE_FILE).catch((error: unknown) => {
    throw new InputError([{ code: "output-exists", what: `The site file cannot be written (${error instanceof Error ? error.message : String(error)})`, file: name, mend: "name another file with --out" }]);
  });
  try {
    await file.writeFile(text);
    await file.sync();
  } catch (error) {
    // Half a file is nobody's work: it was made just now.
    await rm(target, { force: true });
    throw Object.assign(error instanceof Error ? error : new Error(String(error)), { path: name });
  } finally {
    await file.close();
  }
}
