import { createHash } from "node:crypto";

/** As long as a name may be: 240 bytes in most writings, and systems allow 255. */
const LONGEST_CHARACTERS = 60;
const SUFFIX_CHARACTERS = 6;

/**
 * A name as a folder name or a part of a key: lower-case letters, digits and hyphens, at most 60 characters, without accents.
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
