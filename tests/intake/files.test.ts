import { mkdir, symlink } from "node:fs/promises";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { InputError, type ProblemParts } from "../../src/ground/problem.js";
import { fileChunks, findFiles } from "../../src/intake/files.js";
import { exampleSite, writeFiles } from "./example-site.js";

async function folderWith(files: Readonly<Record<string, string | Uint8Array>>): Promise<string> {
  const site = await exampleSite();
  await writeFiles(site, files);
  return site.folder;
}

async function namesOf(patterns: readonly string[], folder: string): Promise<string[]> {
  const problems: ProblemParts[] = [];
  const found = await findFiles(patterns, folder, "a test", problems);
  return [...found.map(({ name }) => name), ...problems.map(({ what }) => what)];
}

async function textOf(folder: string, name: string): Promise<string> {
  const [file] = await findFiles([name], folder, "a test", []);
  const chunks: Buffer[] = [];
  for await (const chunk of fileChunks(file!)) chunks.push(chunk);
  return Buffer.concat(chunks).toString("utf8");
}

async function messageOf(work: Promise<unknown>): Promise<string> {
  const error: unknown = await work.then(() => null, (reason: unknown) => reason);
  expect(error).toBeInstanceOf(InputError);
  return (error as InputError).message;
}

describe("the files of a source", () => {
  it("are sorted by name, each once, whatever the patterns", async () => {
    const folder = await folderWith({ "exports/b.csv": "b", "exports/a.csv": "a", "exports/c.csv.gz": gzipSync("c"), "a.txt": "" });
    expect(await namesOf(["exports/*.csv", "exports/b.csv", "exports/*.gz"], folder)).toEqual(["exports/a.csv", "exports/b.csv", "exports/c.csv.gz"]);
  });

  it("may have names with brackets", async () => {
    const folder = await folderWith({ "board [1].csv": "" });
    expect(await namesOf(["board [1].csv"], folder)).toEqual(["board [1].csv"]);
  });

  it("are missed by name", async () => {
    const folder = await folderWith({ "sub/a.csv": "" });
    expect(await namesOf(["*.csv", "board.csv", "sub"], folder)).toEqual(['No file matches "*.csv"', "The file does not exist", "This is a folder or the like, not a file"]);
  });
});

describe("a file of a source that cannot be reached", () => {
  it("is told, and the others with it, when it is a link to nowhere or to itself", async () => {
    const folder = await folderWith({ "a.csv": "x" });
    await symlink("gone.csv", join(folder, "b.csv"));
    await symlink("loop.csv", join(folder, "loop.csv"));
    expect(await namesOf(["b.csv"], folder)).toEqual(["The file does not exist"]);
    const problems: ProblemParts[] = [];
    await findFiles(["loop.csv", "gone/a.csv"], folder, "a test", problems);
    expect(problems).toMatchObject([
      { code: "file-missing", what: "The file cannot be read", file: "loop.csv", found: "ELOOP" },
      { code: "file-missing", what: "The file does not exist", file: "gone/a.csv" },
    ]);
  });

  it("is not passed over in silence when a pattern finds it", async () => {
    const folder = await folderWith({ "a.csv": "x" });
    await symlink("gone.csv", join(folder, "b.csv"));
    await mkdir(join(folder, "old.csv"));
    expect(await namesOf(["*.csv"], folder)).toEqual(["a.csv", "The file does not exist"]);
    expect(await namesOf(["o*.csv"], folder)).toEqual(['No file matches "o*.csv"']);
  });
});

describe("a file's bytes", () => {
  it("come plain, or unpacked from gzip, also from several gzip members", async () => {
    const folder = await folderWith({ "a.csv": "plain", "b.csv.gz": gzipSync("packed"), "c.csv.gz": Buffer.concat([gzipSync("one "), gzipSync("two")]) });
    expect(await textOf(folder, "a.csv")).toBe("plain");
    expect(await textOf(folder, "b.csv.gz")).toBe("packed");
    expect(await textOf(folder, "c.csv.gz")).toBe("one two");
  });

  it("that end too soon are named", async () => {
    const packed = gzipSync(Buffer.from(Array.from({ length: 5000 }, (_, i) => (i * i) % 251)));
    const folder = await folderWith({ "a.csv.gz": packed.subarray(0, packed.length - 20) });
    expect(await messageOf(textOf(folder, "a.csv.gz"))).toBe("a.csv.gz: The packed file is cut off. Expected a whole gzip file; found its end before the end of the data. To mend it: copy or export it again.");
  });

  it("that are damaged are named", async () => {
    const packed = gzipSync("some readings, and some more readings");
    packed[packed.length - 6]! ^= 0xff;
    const folder = await folderWith({ "a.csv.gz": packed });
    expect(await messageOf(textOf(folder, "a.csv.gz"))).toMatch(/^a\.csv\.gz: The packed file is damaged\. Expected a whole gzip file; found .+\. To mend it: copy or export it again\.$/);
  });

  it("that are not what the name says are named", async () => {
    const folder = await folderWith({ "a.csv.gz": "stamp,channel,reading\n" });
    expect(await messageOf(textOf(folder, "a.csv.gz"))).toBe("a.csv.gz: The file is not packed with gzip. Expected gzip data, as its name ends in .gz; found something else. To mend it: take .gz off its name if it is plain text, or export it again.");
  });
});
