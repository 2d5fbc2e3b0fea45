import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { folderName, folderNameApart } from "../ground/folder-name.js";
import { findFinished } from "./finished-audits.js";
import { sitesOfResult } from "./written-list.js";

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
