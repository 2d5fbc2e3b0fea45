import { shellWord } from "../ground/shell-word.js";
import { access, open, rm } from "node:fs/promises";
import { basename, dirname, relative, resolve } from "node:path";
import { draftSite, leftOpenText, type SiteDraft } from "../draft/draft-site.js";
import { draftTable } from "../draft/draft-table.js";
import { InputError, problemText } from "../ground/problem.js";
import { sampleExports } from "../intake/sample-exports.js";
import { askOpen, type DraftAsker } from "./draft/ask.js";
import { askDraftAtTerminal } from "./draft/prompts.js";
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

/**
 * Looks at exports, asks at a terminal what they do not tell, and writes a first site file. An existing file is never overwritten: it may
 * be somebody's work. `asker` is whoever answers, if not the person at the terminal.
 */
export async function runDraft(request: DraftRequest, around: Surroundings, asker: DraftAsker | null = askerAt(around, request)): Promise<ExitStatus> {
  const out = request.out === null ? null : { name: request.out, path: resolve(around.folder, request.out) };
  if (out !== null) await refuseExisting(out.path, out.name);
  const folder = out === null ? around.folder : dirname(out.path);
  const progress = makeProgress(around, request.quiet);
  // The site file names its exports relative to its own folder.
  const names = request.exports.map((name) => relative(folder, resolve(around.folder, name)));
  const { samples, unread } = await sampleExports(names, folder, (file) => progress.step(`looking at ${file}`));
  progress.step("working out what they show");
  const draftWith = (answers: ReadonlyMap<string, string>): SiteDraft =>
    draftSite(samples, { site: basename(folder) || "home", file: request.out ?? "site.yaml" }, answers, unread);
  const first = draftWith(new Map());
  progress.clear();
  const draft = asker === null ? first : await askOpen(first, draftWith, asker, (shown) => draftTable(shown, around.colour || around.tellsTerminal));
  if (out === null) around.say(draft.yaml);
  else await writeNew(out.path, draft.yaml, out.name);
  // A file that was set aside is told of even when asked to be quiet.
  if (draft.setAside.length > 0) around.tell(`${draft.setAside.map((one) => `set aside: ${problemText(one)}`).join("\n")}\n`);
  if (request.quiet) return 0;
  // Without --out the standard output is the file: everything else goes elsewhere.
  const tell = out === null ? around.tell : around.say;
  tell([
    "",
    draftTable(draft, out === null ? around.tellsTerminal : around.colour || around.tellsTerminal),
    "",
    ...(draft.leftOut.length === 0 ? [] : [oneLine(`  left out: ${draft.leftOut.map(({ signal }) => signal.name).join(", ")}`)]),
    ...draft.questions.filter(({ weight }) => weight !== "offer").map(({ text, weight }) => oneLine(`  ${weight === "blocks" ? "must be answered" : "left open"}: ${text}`)),
    ...(draft.note === null ? [] : [oneLine(`  ${draft.note}.`)]),
    oneLine(endText(draft, out?.name ?? null)),
    "",
  ].join("\n"));
  return 0;
}

/** A person can be asked where the site file does not go to the terminal itself. */
function askerAt({ terminal }: Surroundings, { out, quiet }: DraftRequest): DraftAsker | null {
  return terminal === null || out === null || quiet ? null : askDraftAtTerminal(terminal);
}

/** How much is open, and what to do next. */
function endText({ questions, problems }: SiteDraft, file: string | null): string {
  const open = questions.filter(({ weight }) => weight !== "offer");
  const left = leftOpenText(open, problems.length > 0);
  if (file === null) return left;
  const first = open.length === 0 ? "" : problems.length > 0 ? (open.length === 1 ? "Fill it in, then: " : "Fill them in, then: ") : open.length === 1 ? "Look at it, then: " : "Look at them, then: ";
  return `${left} ${first === "" ? "Next: " : first}keyworthy check ${shellWord(file)}`;
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
