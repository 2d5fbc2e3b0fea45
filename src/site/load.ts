import { dirname, resolve } from "node:path";
import { InputError } from "../ground/problem.js";
import { readSmallFile } from "../ground/small-file.js";
import { parseFurtherRules } from "./further-rules.js";
import { parseSite } from "./parse.js";
import type { RuleSpec, Site } from "./site.js";

/** A site file larger than this is something else, given by mistake. */
const LARGEST_FILE_BYTES = 16 * 1024 * 1024;

/** Reads a site file from disk. Throws `InputError` when it is missing, no text, or wrong in any way. */
export async function loadSite(path: string): Promise<Site> {
  return parseSite(await siteText(path), path, dirname(resolve(path)));
}

/**
 * Reads rules to be tried beside a site's own from disk. Throws `InputError` when the file is missing, no text, or wrong in any
 * way, or the site file cannot be read any more.
 */
export async function loadRules(site: Site, path: string): Promise<RuleSpec[]> {
  const [text, siteFileText] = await Promise.all([siteText(path), siteText(site.file)]);
  return parseFurtherRules(text, path, site, siteFileText);
}

/** What a site file that may be wrong otherwise calls its site; null where it cannot be read at all. */
export async function nameInFile(path: string): Promise<string | null> {
  const text = await siteText(path).catch(() => "");
  const found = /^site: *(?:"([^"\\\n]+)"|'([^'\n]+)'|([^#"'\s][^#\n]*?)) *(?:#.*)?$/m.exec(text) as (string | undefined)[] | null;
  return found?.slice(1).find((name) => name !== undefined) ?? null;
}

/** The text of a site or fleet file. Throws `InputError` when it is missing or no text. */
export async function siteText(path: string): Promise<string> {
  let bytes: Buffer;
  try {
    bytes = await readSmallFile(path, { name: path, expected: "a site file", mostBytes: LARGEST_FILE_BYTES });
  } catch (error) {
    if (error instanceof InputError) throw error;
    const { code } = error as NodeJS.ErrnoException;
    const what =
      code === "ENOENT"
        ? "There is no such file"
        : code === "EISDIR"
          ? "This is a folder, not a site file"
          : `The file cannot be read (${code ?? "unknown reason"})`;
    throw new InputError([{ code: "file-missing", what, file: path, expected: "a site file" }]);
  }
  const binary = (what: string) => new InputError([{ code: "file-binary", what, file: path, expected: "YAML text in UTF-8" }]);
  if (bytes.includes(0)) throw binary("The file is not text");
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw binary("The file is not UTF-8");
  }
}
