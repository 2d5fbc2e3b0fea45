import { describe, expect, it } from "vitest";
import { readDiary, type Diary } from "../../src/intake/diary.js";
import type { Site } from "../../src/site/site.js";
import { contactSignal, distanceSignal, exampleSite, writeFiles } from "./example-site.js";

const signals = [distanceSignal("overhead", { shares: ["board-a", "supply"] }), contactSignal("rail", { shares: ["board-a"] }), contactSignal("latch", { shares: ["board-b"] })];

async function diaryOf(rows: readonly string[], parts: Partial<Site> = {}): Promise<Diary> {
  const site = await exampleSite({ signals, diary: ["diary.csv"], ...parts });
  await writeFiles(site, { "diary.csv": ["subject,state,from,to", ...rows, ""].join("\n") });
  return readDiary(site);
}

const message = (rows: readonly string[], parts: Partial<Site> = {}): Promise<string> => diaryOf(rows, parts).then(() => "no problem", (error: unknown) => (error as Error).message);

describe("a provoked test in the diary", () => {
  it("is told apart from what was certain, in order of time", async () => {
    const { entries, tests } = await diaryOf([
      "test,board-b,2026-10-04T10:05,2026-10-04T10:15",
      "mira,away,2026-10-04T09:00,2026-10-04T12:00",
      "test,board-a,2026-10-04T10:00,2026-10-04T10:10",
    ]);
    expect(entries.map(({ subject }) => subject)).toEqual(["mira"]);
    expect(tests).toEqual([
      { cause: "board-a", from: Date.parse("2026-10-04T09:00Z"), to: Date.parse("2026-10-04T09:10Z"), file: "diary.csv", line: 4 },
      { cause: "board-b", from: Date.parse("2026-10-04T09:05Z"), to: Date.parse("2026-10-04T09:15Z"), file: "diary.csv", line: 2 },
    ]);
  });

  it("may overlap another of the same cause, and counts once when written twice", async () => {
    const test = "test,board-a,2026-10-04T10:00,2026-10-04T10:10";
    const { tests } = await diaryOf([test, "test,board-a,2026-10-04T10:05,2026-10-04T10:15", test, "test,board-a,2026-10-04T10:00,2026-10-04T10:12"]);
    expect(tests.map(({ line }) => line)).toEqual([2, 5, 3]);
  });

  it("is not there while its cause is not filled in", async () => {
    expect(await diaryOf(["test,,2026-10-04T10:00,"])).toEqual({ entries: [], unknown: [], twice: [], tests: [] });
  });

  it("must name a shared cause of the site", async () => {
    expect(await message(["test,board-aa,2026-10-04T10:00,2026-10-04T10:10", "test,hub,2026-10-04T10:00,2026-10-04T10:10"])).toBe(
      'diary.csv:2: The site file has no shared cause "board-aa" to test. Expected one of board-a, board-b, supply; found "board-aa". To mend it: did you mean "board-a"?\n' +
        'diary.csv:3: The site file has no shared cause "hub" to test. Expected one of board-a, board-b, supply; found "hub". To mend it: name it under `shares` of every signal that depends on it.',
    );
  });

  it("needs a site with shared causes", async () => {
    expect(await message(["test,board-a,2026-10-04T10:00,2026-10-04T10:10"], { signals: [distanceSignal("overhead")] })).toBe(
      'diary.csv:2: The site file has no shared cause "board-a" to test. Expected a name under `shares` of the site\'s signals, where none stands yet; found "board-a". To mend it: name it under `shares` of every signal that depends on it.',
    );
  });

  it("must have times that read and follow one another", async () => {
    expect(await message(["test,board-a,2026-10-04,2026-10-04T10:10", "test,board-a,2026-10-04T10:00,2026-10-04T10:00"])).toBe(
      'diary.csv:2: The time in "from" is not readable. Expected a time such as 2026-10-01T18:30 or 2026-10-01T18:30:00+01:00; found "2026-10-04".\n' +
        "diary.csv:3: The test ends before it begins. Expected a `to` later than `from`; found from 2026-10-04T10:00 to 2026-10-04T10:00.",
    );
  });

  it("is meant by a subject column that nearly says so", async () => {
    expect(await message(["Test,board-a,2026-10-04T10:00,2026-10-04T10:10"])).toBe(
      'diary.csv:2: The site file has no subject "Test". Expected one of bay-1, yard-door, mira; found "Test". To mend it: did you mean "test"?',
    );
  });

  it("gives way to a subject of the site that is called test", async () => {
    const subjects: Site["subjects"] = [{ id: "bay-1", class: "bay", vehicle: null }, { id: "test", class: "person", vehicle: null }];
    const { entries, tests } = await diaryOf(["test,here,2026-10-04T10:00,2026-10-04T10:10"], { subjects });
    expect(entries.map(({ subject, state }) => [subject, state])).toEqual([["test", 1]]);
    expect(tests).toEqual([]);
    expect(await message(["test,board-a,2026-10-04T10:00,2026-10-04T10:10"], { subjects })).toBe('diary.csv:2: A person has no such state. Expected "here" or "away", or nothing where it is not known, or "taken back" to cancel what other rows say; found "board-a".');
  });
});
