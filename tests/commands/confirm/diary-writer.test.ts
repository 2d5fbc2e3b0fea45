import { appendFile, chmod, mkdir, readdir, readFile, stat, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { findDiaryPlace } from "../../../src/commands/confirm/diary-place.js";
import { makeDiaryWriter } from "../../../src/commands/confirm/diary-writer.js";
import { loadSite } from "../../../src/site/load.js";
import { folderWith, tinyLog, tinySite } from "../tiny-site.js";
import { idaCame, whose } from "./invented-questions.js";

const now = (): number => Date.UTC(2026, 6, 1, 9);
const header = "subject,state,from,to";
const yes = whose.answers[0]!.rows;
const rowText = "bay,occupied,2026-06-03T08:30:00+01:00,2026-06-03T15:20:00+01:00";

/** A site with these files and this diary; the text after `files:`. */
async function siteWith(diary: string | null, files: Readonly<Record<string, string>> = {}) {
  const folder = await folderWith({ "site.yaml": `${tinySite}${diary === null ? "" : `diary: { files: ${diary} }\n`}`, "log.csv": tinyLog(2), ...files });
  const site = await loadSite(join(folder, "site.yaml"));
  return { folder, site, text: (name: string) => readFile(join(folder, name), "utf8") };
}

async function writes(diary: string | null, files: Readonly<Record<string, string>> = {}) {
  const { folder, site, text } = await siteWith(diary, files);
  const place = await findDiaryPlace(site);
  await makeDiaryWriter(place, site.timeZone, now).add(yes);
  return { folder, text, place };
}

describe("answers go", () => {
  it("to the end of the diary that the site file names, with comments and columns kept", async () => {
    const kept = `${header},who\nida,away,2026-06-01T08:05,2026-06-01T16:55,"ida, herself"\n`;
    const { text, place } = await writes("diary.csv", { "diary.csv": kept });
    expect(await text("diary.csv")).toBe(`${kept}${rowText},\n`);
    expect([place.remark, place.readable]).toEqual([null, ["diary.csv"]]);
  });

  it("to a new diary beside the site file, which gets a line more; both are readable at once", async () => {
    const { folder, text, place } = await writes(null);
    expect(await text("diary.csv")).toBe(`${header},note\r\n${rowText},answered 2026-07-01\r\n`);
    expect(await text("site.yaml")).toBe(`${tinySite}diary: { files: diary.csv }\n`);
    expect((await stat(join(folder, "diary.csv"))).mode & 0o777).toBe(0o600);
    expect(place.remark).toBe("The site file names no diary yet; answers go into a new file, diary.csv, and the line `diary: { files: diary.csv }` is added to site.yaml.");
    expect((await loadSite(join(folder, "site.yaml"))).diary).toEqual(["diary.csv"]);
  });

  it("never into a file called diary.csv that the site file does not name, unless nothing but our header stands in it", async () => {
    const { text } = await writes(null, { "diary.csv": "Dear diary\n" });
    expect([await text("diary.csv"), (await text("diary-2.csv")).includes(rowText)]).toEqual(["Dear diary\n", true]);
    const interrupted = await writes(null, { "diary.csv": `${header},note\r\n` });
    expect(await interrupted.text("diary.csv")).toContain(rowText);
  });

  it("to the last of several files, which it says", async () => {
    const { text, place } = await writes("diary/*.csv", { "diary/a.csv": `${header}\n`, "diary/b.csv": `${header}\n` });
    expect([await text("diary/a.csv"), await text("diary/b.csv")]).toEqual([`${header}\n`, `${header}\n${rowText}\n`]);
    expect(place.remark).toBe("The diary has 2 files; answers go into diary/b.csv.");
  });

  it("to a new file where a path or a pattern has none yet", async () => {
    for (const [diary, name] of [["diary/*.csv", "diary/diary.csv"], ['"**/*-notes.csv"', "diary-notes.csv"], ["mine.csv", "mine.csv"]] as const) {
      const { text, place } = await writes(diary);
      expect(await text(name)).toContain(rowText);
      expect(place.remark).toBe(`The diary that the site file names is not there yet; answers go into a new one, ${name}.`);
      expect(place.readable).toEqual([]);
    }
  });

  it("to a plain file beside a packed one, where the pattern allows", async () => {
    const { text, place } = await writes("diary/*", { "diary/june.csv.gz": "packed" });
    expect(await text("diary/june.csv")).toContain(rowText);
    expect(place.remark).toBe("No file of the diary can be added to (packed, or not yours to write); answers go into a new one, diary/june.csv.");
  });

  it("nowhere where only packed files are meant: the message says how to mend it", async () => {
    const { site } = await siteWith("june.csv.gz", { "june.csv.gz": "packed" });
    await expect(findDiaryPlace(site)).rejects.toThrow(
      /site\.yaml: Answers can be added to no file of the diary\. Expected a diary file that is not packed \(\.gz\) and that you may write to, or a pattern that a new file fits; found june\.csv\.gz, june\.csv\.gz\. To mend it: add a file of your own under `diary`, such as `diary: \{ files: \[OLD, answers\.csv\] \}`\./,
    );
  });

  it("nowhere where the site file cannot take the line: it says which line", async () => {
    const { folder } = await siteWith(null);
    await writeFile(join(folder, "site.yaml"), `${tinySite}...\n`);
    await expect(findDiaryPlace(await loadSite(join(folder, "site.yaml")))).rejects.toThrow(
      /site\.yaml: The site file names no diary for your answers, and a line cannot be added to it safely\. Expected a line that names a file for them; found none\. To mend it: write this line into it yourself: diary: \{ files: diary\.csv \}\./,
    );
  });

  it("nowhere before the first answer: looking for the place touches nothing", async () => {
    const { folder, site } = await siteWith(null);
    await findDiaryPlace(site);
    expect((await readdir(folder)).toSorted()).toEqual(["log.csv", "site.yaml"]);
  });

  it("after the diary's own permissions are kept", async () => {
    const { folder, site } = await siteWith("own/diary.csv");
    await mkdir(join(folder, "own"));
    await writeFile(join(folder, "own/diary.csv"), `${header}\n`);
    await chmod(join(folder, "own/diary.csv"), 0o664);
    await makeDiaryWriter(await findDiaryPlace(site), site.timeZone, now).add(yes);
    expect((await stat(join(folder, "own/diary.csv"))).mode & 0o777).toBe(0o664);
  });
});

describe("taking an answer back", () => {
  const start = async () => {
    const { folder, site, text } = await siteWith("diary.csv", { "diary.csv": `${header},note\n# mine,,,,\n` });
    const writer = makeDiaryWriter(await findDiaryPlace(site), site.timeZone, now);
    return { folder, writer, text: () => text("diary.csv") };
  };

  it("removes exactly the rows it wrote, one answer after the other", async () => {
    const { writer, text } = await start();
    const before = await text();
    const first = await writer.add(yes);
    const between = await text();
    const second = await writer.add(idaCame.answers[0]!.rows);
    await writer.takeBack(second);
    expect(await text()).toBe(between);
    await writer.takeBack(first);
    expect(await text()).toBe(before);
  });

  it("adds rows that say so where somebody changed the file meanwhile, and loses nothing of theirs", async () => {
    const { folder, writer, text } = await start();
    const first = await writer.add(yes);
    await appendFile(join(folder, "diary.csv"), "ida,away,2026-06-05T09:00,2026-06-05T10:00,by hand\n");
    const edited = await text();
    await writer.takeBack(first);
    expect(await text()).toBe(`${edited}bay,taken back,2026-06-03T08:30:00+01:00,2026-06-03T15:20:00+01:00,answered 2026-07-01\n`);
  });

  it("leaves a diary with a header where the answer began it", async () => {
    const { site, text } = await siteWith("new.csv");
    const writer = makeDiaryWriter(await findDiaryPlace(site), site.timeZone, now);
    await writer.takeBack(await writer.add(yes));
    expect(await text("new.csv")).toBe(`${header},note\r\n`);
  });
});
