import { describe, expect, it } from "vitest";
import { readDiary, type Diary } from "../../src/intake/diary.js";
import { exampleSite, writeFiles } from "./example-site.js";

async function diaryOf(text: string): Promise<Diary["entries"]> {
  const site = await exampleSite({ diary: ["diary.csv"] });
  await writeFiles(site, { "diary.csv": text });
  return (await readDiary(site)).entries;
}

const message = (text: string): Promise<string> => diaryOf(text).then(() => "no problem", (error: unknown) => (error as Error).message);

describe("a diary", () => {
  it("says in the words of each subject what was certain, in local time or with an offset", async () => {
    const entries = await diaryOf("subject,state,from,to,note\nmira,away,2026-10-02T08:00,2026-10-02T17:30,work\nbay-1,occupied,2026-10-01 20:00,2026-10-02T06:00:00Z,\nyard-door,Open,2026-10-03T08:00,2026-10-03T08:05,\n");
    expect(entries.map(({ subject, state, from, to, line }) => [subject, state, new Date(from).toISOString(), new Date(to).toISOString(), line])).toEqual([
      ["bay-1", 1, "2026-10-01T19:00:00.000Z", "2026-10-02T06:00:00.000Z", 3],
      ["mira", 0, "2026-10-02T07:00:00.000Z", "2026-10-02T16:30:00.000Z", 2],
      ["yard-door", 1, "2026-10-03T07:00:00.000Z", "2026-10-03T07:05:00.000Z", 4],
    ]);
  });

  it("skips rows that were not filled in, even if their times do not read", async () => {
    expect(await diaryOf("subject,state,from,to\nbay-1,,2026-10-01T20:00,\nnobody, ,,\n")).toEqual([]);
  });

  it("need not be there", async () => {
    expect(await readDiary(await exampleSite())).toEqual({ entries: [], unknown: [], twice: [], tests: [] });
  });

  it("must be there when the site file names it", async () => {
    await expect(readDiary(await exampleSite({ diary: ["diary-*.csv"] }))).rejects.toThrow(/^No file matches "diary-\*\.csv"\. Expected export files for the diary/);
  });

  it("must name subjects and states that there are", async () => {
    expect(await message("subject,state,from,to\nbay1,occupied,2026-10-01T20:00,2026-10-01T21:00\nbay-1,open,2026-10-01T20:00,2026-10-01T21:00\n")).toBe(
      'diary.csv:2: The site file has no subject "bay1". Expected one of bay-1, yard-door, mira; found "bay1". To mend it: did you mean "bay-1"?\n' +
        'diary.csv:3: A bay has no such state. Expected "occupied" or "empty", or nothing where it is not known, or "taken back" to cancel what other rows say; found "open".',
    );
  });

  it("must have times that read and follow one another", async () => {
    expect(await message("subject,state,from,to\nmira,here,2026-10-01,2026-10-01T21:00\nmira,here,2026-10-01T21:00,2026-10-01T21:00\n")).toBe(
      'diary.csv:2: The time in "from" is not readable. Expected a time such as 2026-10-01T18:30 or 2026-10-01T18:30:00+01:00; found "2026-10-01".\n' +
        "diary.csv:3: The diary entry ends before it begins. Expected a `to` later than `from`; found from 2026-10-01T21:00 to 2026-10-01T21:00.",
    );
  });

  it("does not guess at local times that occur twice or never", async () => {
    expect(await message("subject,state,from,to\nmira,here,2026-10-25T01:30,2026-10-25T03:00\nmira,here,2026-03-29T00:30,2026-03-29T01:30\n")).toBe(
      'diary.csv:2: The local time in "from" occurs twice in Europe/London: the clocks changed. Expected a local time that occurs once, or one with an offset; found "2026-10-25T01:30". To mend it: write the offset behind it, such as +01:00.\n' +
        'diary.csv:3: The local time in "to" never occurs in Europe/London: the clocks changed. Expected a local time that occurs once, or one with an offset; found "2026-03-29T01:30". To mend it: write the offset behind it, such as +01:00.',
    );
    expect(await diaryOf("subject,state,from,to\nmira,here,2026-10-25T01:30+01:00,2026-10-25T01:30+00:00\n")).toHaveLength(1);
  });

  it("must not contradict itself, though it may repeat itself", async () => {
    const long = "mira,here,2026-10-01T10:00,2026-10-01T20:00\n";
    const inside = "mira,here,2026-10-01T11:00,2026-10-01T12:00\n";
    // What lies within another row that says the same is no entry of its own.
    expect(await diaryOf(`subject,state,from,to\n${long}${inside}mira,away,2026-10-01T20:00,2026-10-01T21:00\nbay-1,empty,2026-10-01T10:00,2026-10-01T20:00\n`)).toHaveLength(3);
    expect(await message(`subject,state,from,to\n${long}${inside}mira,away,2026-10-01T15:00,2026-10-01T16:00\n`)).toBe(
      'diary.csv:4: Two diary entries contradict each other about "mira": this one says away from 2026-10-01 15:00 +01:00 to 2026-10-01 16:00 +01:00. Expected one state at a time; found diary.csv:2, which says here from 2026-10-01 10:00 +01:00 to 2026-10-01 20:00 +01:00. To mend it: correct the one that is wrong, or empty its state.',
    );
  });

  it("must have its columns and whole rows", async () => {
    expect(await message("")).toBe("diary.csv: The diary file is empty. Expected a header row: subject,state,from,to; found nothing.");
    expect(await message("subject,stat,from,to\n")).toContain('The header lacks the column "state"');
    expect(await message("subject,state,from,to\nmira,here\n")).toBe("diary.csv:2: The diary row has the wrong number of columns. Expected 4, as in the header; found 2.");
    expect(await message('subject,state,from,to\nmira,"here,2026-10-01T10:00,2026-10-01T20:00\n')).toContain("diary.csv:2: The diary row is not readable: quote not closed. Found a quote opens in this row");
  });
});
