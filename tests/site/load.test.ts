import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { loadSite } from "../../src/site/load.js";
import { smallSite } from "./small-site.js";

let folder = "";
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "site-file-"));
});
afterAll(() => rm(folder, { recursive: true }));

const written = async (name: string, content: string | Uint8Array): Promise<string> => {
  const path = join(folder, name);
  await writeFile(path, content);
  return path;
};

it("reads a file, and remembers its folder for the paths in it", async () => {
  const path = await written("site.yaml", smallSite);
  expect(await loadSite(path)).toMatchObject({ name: "Heron Lane", file: path, folder });
});

it("reads a file that starts with a byte order mark", async () => {
  expect((await loadSite(await written("bom.yaml", `\ufeff${smallSite}`))).name).toBe("Heron Lane");
});

it.each<[string, (() => Promise<string>), string]>([
  ["a missing file", () => Promise.resolve(join(folder, "none.yaml")), "none.yaml: There is no such file. Expected a site file."],
  ["a folder", () => Promise.resolve(folder), ": This is a folder, not a site file. Expected a site file."],
  ["an empty file", () => written("empty.yaml", ""), "empty.yaml: The file is empty. Expected YAML text."],
  ["a binary file", () => written("binary.yaml", new Uint8Array([31, 139, 0, 1])), "binary.yaml: The file is not text. Expected YAML text in UTF-8."],
  ["text in another encoding", () => written("latin.yaml", new Uint8Array([0x73, 0x3a, 0x20, 0xe9])), "latin.yaml: The file is not UTF-8. Expected YAML text in UTF-8."],
  ["a file of 16 MiB and more", () => written("large.yaml", " ".repeat(16 * 1024 * 1024 + 1)), "large.yaml: The file is too large for a site file, and is not read. Expected a site file; found more than 17 MB. To mend it: check the path."],
])("says what is wrong with %s", async (_, path, message) => {
  const text = await loadSite(await path()).then(() => "nothing", (error: unknown) => (error as Error).message);
  expect(text.endsWith(message)).toBe(true);
});
