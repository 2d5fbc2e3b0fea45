import { createHash } from "node:crypto";
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { findFinished } from "./finished-audits.js";
import { sitesOfResult } from "./written-list.js";

/** As long as a name may be: 240 bytes in most writings, and systems allow 255. */
const LONGEST_CHARACTERS = 60;
const SUFFIX_CHARACTERS = 6;

/**
 * Turns a name into a safe folder name: lower-case letters, digits and hyphens, at most 60 characters, without accents.
 * A name with nothing usable becomes `site`, and it and a name that is cut short end with the suffix of {@link folderNameApart}.
 */
export function folderName(name: string): string {
  const plain = plainName(name);
  return plain === "" || Array.from(plain).length > LONGEST_CHARACTERS ? folderNameApart(name) : plain;
}

/** The same with a short suffix that belongs to this very spelling: two names that look alike as folders are told apart by it. */
export function folderNameApart(name: string): string {
  const suffix = createHash("sha256").update(name).digest("hex").slice(0, SUFFIX_CHARACTERS);
  const beginning = Array.from(plainName(name)).slice(0, LONGEST_CHARACTERS - SUFFIX_CHARACTERS - 1).join("").replace(/-+$/, "");
  return `${beginning === "" ? "site" : beginning}-${suffix}`;
}

function plainName(name: string): string {
  return name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "");
}

/**
 * The folder name of a site under `parent`: the plain one, unless another of `names` would fall on it too, or another site's results
 * lie there already; then the one with the suffix. A site that has the suffix keeps it.
 */
export async function siteFolderName(parent: string, name: string, names: readonly string[]): Promise<string> {
  const [plain, apart] = [folderName(name), folderNameApart(name)];
  if (names.some((other) => other !== name && folderName(other) === plain)) return apart;
  const there = await readdir(parent).catch((): string[] => []);
  if (there.includes(apart)) return apart;
  if (!there.includes(plain)) return plain;
  const owners = [...(await sitesOfResult(join(parent, plain))), ...(await findFinished(join(parent, plain), parent)).finished.map(({ counts }) => counts.site.name)];
  return owners.length === 0 || owners.includes(name) ? plain : apart;
}
