/**
 * A name as a folder name or a part of a key: lower-case letters, digits and hyphens, at most 60 characters, without
 * accents. A name with nothing usable becomes `site`.
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
