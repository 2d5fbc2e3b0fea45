import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { saidOnce, withoutTakenBack, writtenTwice } from "../../src/intake/diary-corrections.js";
import { readDiary, type Diary } from "../../src/intake/diary.js";
import type { DiaryEntry } from "../../src/intake/readings.js";
import { exampleSite, writeFiles } from "./example-site.js";

const head = "subject,state,from,to\n";

async function diaryOf(files: Readonly<Record<string, string>>): Promise<Diary> {
  const site = await exampleSite({ diary: Object.keys(files) });
  await writeFiles(site, Object.fromEntries(Object.entries(files).map(([name, rows]) => [name, head + rows])));
  return readDiary(site);
}

const told = ({ entries }: Diary): string[] => entries.map(({ subject, state, from, to }) => `${subject} ${state} ${new Date(from).toISOString().slice(11, 16)}-${new Date(to).toISOString().slice(11, 16)}`);

describe("a row that is taken back", () => {
  it("cancels what stands above it, for its time alone", async () => {
    expect(told(await diaryOf({ "diary.csv": "mira,here,2026-11-09T10:00,2026-11-09T14:00\nmira,taken back,2026-11-09T11:00,2026-11-09T12:00\n" }))).toEqual(["mira 1 10:00-11:00", "mira 1 12:00-14:00"]);
  });

  it("cancels what other files say, whatever they are called, and leaves other subjects alone", async () => {
    const written = "mira,here,2026-11-09T11:00,2026-11-09T12:00\nbay-1,occupied,2026-11-09T11:00,2026-11-09T12:00\n";
    expect(told(await diaryOf({ "a.csv": "mira,Taken back,2026-11-09T11:00,2026-11-09T12:00\n", "b.csv": written }))).toEqual(["bay-1 1 11:00-12:00"]);
  });

  it("lets the opposite be written below it: that is no contradiction any more", async () => {
    const rows = "mira,here,2026-11-09T11:00,2026-11-09T12:00\nmira,taken back,2026-11-09T11:00,2026-11-09T12:00\nmira,away,2026-11-09T11:00,2026-11-09T12:00\n";
    expect(told(await diaryOf({ "diary.csv": rows }))).toEqual(["mira 0 11:00-12:00"]);
  });

  it("must name a subject and times that read", async () => {
    await expect(diaryOf({ "diary.csv": "nobody,taken back,2026-11-09T11:00,2026-11-09T12:00\n" })).rejects.toThrow(/^diary\.csv:2: The site file has no subject "nobody"/);
  });
});

describe("a row without a state", () => {
  it("says that somebody was asked and did not know; it is no entry", async () => {
    const diary = await diaryOf({ "diary.csv": "mira,,2026-11-09T11:00Z,2026-11-09T12:00Z\nnobody,,,\n" });
    expect(diary.entries).toEqual([]);
    expect(diary.unknown).toEqual([{ subject: "mira", from: Date.parse("2026-11-09T11:00Z"), to: Date.parse("2026-11-09T12:00Z") }]);
  });
});

describe("a row that stands twice", () => {
  it("counts once and is known to stand twice, for the time that both tell of", async () => {
    const diary = await diaryOf({ "diary.csv": "mira,here,2026-11-09T10:00Z,2026-11-09T14:00Z\nmira,here,2026-11-09T11:00Z,2026-11-09T12:00Z\n" });
    expect(told(diary)).toEqual(["mira 1 10:00-14:00"]);
    expect(diary.twice).toEqual([{ subject: "mira", from: Date.parse("2026-11-09T11:00Z"), to: Date.parse("2026-11-09T12:00Z") }]);
  });
});

/** Small diaries of one subject, on whole instants from 0 to 20. */
const entries = fc.array(fc.record({ from: fc.nat(19), length: fc.integer({ min: 1, max: 6 }), line: fc.nat(9) }), { maxLength: 6 }).map((list) => list.map(({ from, length, line }): DiaryEntry => ({ subject: "mira", state: 1, from, to: from + length, file: "diary.csv", line })));
const covering = (list: readonly { readonly from: number; readonly to: number }[], at: number): number => list.filter(({ from, to }) => from <= at && at < to).length;

describe("instant by instant", () => {
  it("twice is where two entries or more are; saying a thing once leaves nothing out", () => {
    fc.assert(
      fc.property(entries, (list) => {
        for (let at = 0; at < 26; at += 1) {
          expect(covering(writtenTwice(list), at) > 0).toBe(covering(list, at) >= 2);
          expect(covering(saidOnce(list), at) > 0).toBe(covering(list, at) > 0);
        }
      }),
    );
  });

  it("an entry stands wherever no row below it takes it back", () => {
    fc.assert(
      fc.property(entries, entries, (list, back) => {
        const kept = withoutTakenBack(list, back);
        for (let at = 0; at < 26; at += 1) {
          const standing = list.filter((one) => covering([one], at) > 0 && !back.some((hole) => hole.line > one.line && covering([hole], at) > 0));
          expect(covering(kept, at)).toBe(standing.length);
        }
      }),
    );
  });
});
