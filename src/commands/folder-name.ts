/**
 * A name as one safe folder name: letters, digits and hyphens, lower case, at most 60 characters. Accents are dropped;
 * a name with nothing usable becomes `site`.
 */
export function folderName(name: string): string {
  const plain = name
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 60)
    .replace(/-+$/, "");
  return plain === "" ? "site" : plain;
}
