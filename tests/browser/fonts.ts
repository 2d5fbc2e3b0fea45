import { existsSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";

/** Debian's folders of two sets of fonts that have next to nothing in common. */
export const fontFolders = { dejavu: "/usr/share/fonts/truetype/dejavu", liberation: "/usr/share/fonts/truetype/liberation" } as const;

/** A set of fonts that a page is looked at with, and nothing else. */
export type FontSet = keyof typeof fontFolders;

/** The sets that are here; where a machine decides, all of them must be. */
export const fontSets = (Object.keys(fontFolders) as FontSet[]).filter((set) => (process.env.CI ?? "") !== "" || existsSync(fontFolders[set]));

/** The surroundings of a browser that knows no other fonts than these. `folder` takes the configuration and its cache. */
export async function onlyFonts(set: FontSet, folder: string): Promise<Record<string, string>> {
  const cache = join(folder, "font-cache");
  await mkdir(cache, { recursive: true });
  const file = join(folder, "fonts.conf");
  await writeFile(file, `<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "fonts.dtd">\n<fontconfig><dir>${fontFolders[set]}</dir><cachedir>${cache}</cachedir></fontconfig>\n`);
  return { ...Object.fromEntries(Object.entries(process.env).filter((one): one is [string, string] => one[1] !== undefined)), FONTCONFIG_FILE: file };
}
