import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { keptAnswers, withKeptAnswers } from "../../src/commands/kept-answers.js";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

const header = "subject,state,from,to,words,question";
const answered = "ida,here,2026-06-02T17:00:00+01:00,2026-06-02T18:00:00+01:00,here or away,Was Ida at home then?";
const open = "bay,,2026-06-03T17:00:00+01:00,2026-06-03T18:00:00+01:00,occupied or empty,Was a vehicle there?";
const result = "reports/otter-cottage/2026-06";

describe("a to-confirm.csv in which somebody wrote", () => {
  const kept = async (text: string) => keptAnswers(await folderWith({ "to-confirm.csv": text }));

  it("is one with a state, or with something in a column of their own", async () => {
    expect(await kept(`${header}\r\n${open}\r\n`)).toBeNull();
    expect(await keptAnswers(await folderWith({}))).toBeNull();
    expect(await kept("subject,state,from,to,words,moves\nbay,,2026-06-03T17:00:00+01:00,2026-06-03T18:00:00+01:00,occupied or empty,an earlier version wrote this\n")).toBeNull();
    expect((await kept(`${header},mine\n${open},\n${answered},\n${open},ask Ida\n`))?.rows.map((row) => row.at(-1))).toEqual(["", "ask Ida"]);
  });

  it("puts its rows first in the new one, as they stood, columns of their own behind, and nothing is asked twice", async () => {
    const found = await kept(`mine,state,subject,from,to\n"so, yes",here,ida,2026-06-02T17:00:00+01:00,2026-06-02T18:00:00+01:00\n`);
    expect(withKeptAnswers(`${header}\r\n${answered.replace("here,", ",")}\r\n${open}\r\n`, found)).toBe(`${header},mine\r\nida,here,2026-06-02T17:00:00+01:00,2026-06-02T18:00:00+01:00,,,"so, yes"\r\n${open},\r\n`);
    expect(withKeptAnswers("as it is", null)).toBe("as it is");
  });

  it.each([
    ["with semicolons", Buffer.from(`${header.replaceAll(",", ";")}\n`), "found subject;state;from;to;words;question"],
    ["in another encoding", Buffer.from(`${header}\nida,here,,,caf\u00e9,\n`, "latin1"), "found "],
  ])("is not replaced when a spreadsheet saved it %s", async (_, bytes, found) => {
    const folder = await folderWith({ "to-confirm.csv": bytes });
    const refusal = keptAnswers(folder);
    await expect(refusal).rejects.toThrow("The to-confirm.csv of the earlier result is not as it was written, and may hold answers of yours that would be lost. Expected commas between subject, state, from and to; UTF-8;");
    await expect(refusal).rejects.toThrow(found);
    await expect(refusal).rejects.toThrow("To mend it: move the file elsewhere, or name another folder with --out.");
  });
});

describe("an audit", () => {
  const audited = async (site: string, files: Readonly<Record<string, string>>, ...words: string[]) => {
    const folder = await folderWith({ "site.yaml": site, "log.csv": tinyLog(7), ...files });
    const around = listening(folder);
    const status = await runProgram(["audit", "site.yaml", "--month", "2026-06", ...words], around);
    return { folder, around, status, text: (name: string) => readFile(join(folder, name), "utf8") };
  };

  it("carries answers along, first in the new file, and says how many", async () => {
    const { folder, around, text } = await audited(tinySite, {});
    await writeFile(join(folder, result, "to-confirm.csv"), `${header}\r\n${open}\r\n${answered}\r\n`);
    expect(await runProgram(["audit", "site.yaml", "--month", "2026-06", "--quiet"], listening(folder))).toBe(3);
    expect((await text(`${result}/to-confirm.csv`)).split("\r\n").slice(0, 2)).toEqual([header, answered]);
    await writeFile(join(folder, result, "to-confirm.csv"), `${header}\r\n${open}\r\n${answered}\r\n`);
    expect(await runProgram(["audit", "site.yaml", "--month", "2026-06"], around)).toBe(3);
    expect((await text(`${result}/to-confirm.csv`)).split("\r\n").slice(0, 2)).toEqual([header, answered]);
    expect(around.told()).toBe(`${result}/to-confirm.csv: 1 row that you filled in stands first in the new file, as before. For the audit to use them, copy the file beside the site file and name it under \`diary\`.\n`);
  });

  it("refuses before it writes where the diary lies in the folder that it would replace", async () => {
    const file = `${result}/to-confirm.csv`;
    const { folder, around, status, text } = await audited(`${tinySite}diary: { files: ${file} }\n`, { [file]: `${header}\n${answered}\n` });
    expect([status, around.told()]).toEqual([
      2,
      `${join(folder, "site.yaml")}: The diary ${file} lies in the folder that this result would replace. Expected a diary outside of the results; found the output folder ${result}. To mend it: copy ${file} beside the site file, such as to diary.csv, and name that under \`diary\`.\n`,
    ]);
    expect(await text(file)).toBe(`${header}\n${answered}\n`);
  });

  it("does not put a result for sharing in place of answers", async () => {
    const { folder, around, status, text } = await audited(tinySite, { "out/to-confirm.csv": `${header}\n${answered}\n` }, "--redact", "--out", "out");
    expect([status, around.told()]).toEqual([
      2,
      `${join(folder, "out/to-confirm.csv")}: The to-confirm.csv of the earlier result holds answers of yours, and a result made for sharing has no place for them. Expected another folder; found 1 row that is filled in. To mend it: name another folder with --out.\n`,
    ]);
    expect(await text("out/to-confirm.csv")).toContain(answered);
  });

  it("says how many answers it used, and that no sensor contradicts them", async () => {
    const { around } = await audited(`${tinySite}diary: { files: diary.csv }\n`, { "diary.csv": "subject,state,from,to\nida,away,2026-06-02T10:00,2026-06-02T12:00\nida,,2026-06-03T10:00,2026-06-03T12:00\n" });
    expect(around.said()).toContain("  diary: 1 entry used, and no sensor contradicts it\n");
  });

  it("says which answers sensors contradict", async () => {
    const { around } = await audited(`${tinySite}diary: { files: diary.csv }\n`, { "diary.csv": "subject,state,from,to\nida,away,2026-06-02T10:00,2026-06-02T12:00\nida,here,2026-06-03T10:00,2026-06-03T12:00\nbay,occupied,2026-06-04T10:00,2026-06-04T12:00\n" });
    expect(around.said()).toContain("  diary: 3 entries used; sensors contradict 2 of them:\n    diary.csv:3 about ida: phone\n    diary.csv:4 about bay: overhead, wall\n");
  });

  it("says which two answers contradict each other, and how to mend it", async () => {
    const { around, status } = await audited(`${tinySite}diary: { files: diary.csv }\n`, { "diary.csv": "subject,state,from,to\nida,away,2026-06-02T10:00,2026-06-02T12:00\nida,here,2026-06-02T11:00,2026-06-02T13:00\n" });
    expect([status, around.told()]).toEqual([
      2,
      'diary.csv:3: Two diary entries contradict each other about "ida": this one says here from 2026-06-02 11:00 +01:00 to 2026-06-02 13:00 +01:00. Expected one state at a time; found diary.csv:2, which says away from 2026-06-02 10:00 +01:00 to 2026-06-02 12:00 +01:00. To mend it: correct the one that is wrong, or empty its state.\n',
    ]);
  });
});

describe("thinning", () => {
  it("leaves a to-confirm.csv in which somebody wrote, and says so", async () => {
    const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog(7) });
    await runProgram(["audit", "site.yaml", "--month", "2026-06", "--quiet"], listening(folder));
    await mkdir(join(folder, result), { recursive: true });
    await writeFile(join(folder, result, "to-confirm.csv"), `${header}\n${answered}\n`);
    const around = listening(folder);
    expect(await runProgram(["thin", "reports", "--before", "2026-07"], around)).toBe(0);
    expect(await readFile(join(folder, result, "to-confirm.csv"), "utf8")).toBe(`${header}\n${answered}\n`);
    expect(around.told()).toBe(`${result}/to-confirm.csv stays: you wrote in it. Delete it yourself when it is no longer needed.\n`);
  });
});

describe("confirm without a terminal", () => {
  it("says so, and points to the other way", async () => {
    const around = listening(await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog(2) }));
    expect(await runProgram(["confirm", "site.yaml"], around)).toBe(2);
    expect(around.told()).toBe(
      "`keyworthy confirm` asks at a terminal, but its input or output is not a terminal. Expected to be started in a terminal, without | < or >. To mend it: start it there; or audit the site, fill in the to-confirm.csv of the result, copy it beside the site file and name it under `diary`.\n",
    );
  });
});
