import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse } from "csv-parse/sync";
import { stringify } from "csv-stringify/sync";
import { beforeAll, describe, expect, test } from "vitest";
import { stakeOf, type JudgedRule } from "../../../src/judge/confirm/stakes.js";
import { toConfirm } from "../../../src/judge/confirm/to-confirm.js";
import { toConfirmCsv } from "../../../src/result/to-confirm-csv.js";
import { readDiary } from "../../../src/intake/diary.js";
import type { DiaryEntry } from "../../../src/intake/readings.js";
import { makeReferenceBook } from "../../../src/truth/reference/book.js";
import { judgeRule } from "../../../src/judge/judge.js";
import { stateAt } from "../../../src/timeline/state-at.js";
import { over } from "../small-site.js";
import { monthText, readMonth, type ReadMonth } from "../../truth/clocks/month.js";
import type { ToConfirm } from "../../../src/result/witnesses.js";

/**
 * Audit, fill in, audit: a simulated month in which every witness of the bay is in the rule, so that nothing is verified. Then
 * somebody who remembers everything fills in the file.
 */
let month: ReadMonth;
let asked: ToConfirm;
let before: JudgedRule;
beforeAll(async () => {
  month = await readMonth(monthText(""));
  before = judged([]);
  asked = toConfirm(month.site, [before]);
});

function judged(diary: readonly DiaryEntry[]): JudgedRule {
  const { site, accounts, period } = month;
  const rule = over(site, site.rules[0]!, accounts, makeReferenceBook(site, accounts, diary, period), period);
  return { rule, judgement: judgeRule(rule) };
}

/** The file, its state column filled in by `remember`; read as the site's diary. */
async function filledIn(remember: (subject: string, middle: number) => string): Promise<DiaryEntry[]> {
  const text = toConfirmCsv({ site: { timeZone: month.site.timeZone }, toConfirm: { rows: asked.rows.map((row) => ({ ...row, moments: [...row.moments], words: [...row.words] as [string, string] })) } });
  const rows = parse<Record<string, string>>(text, { columns: true }).map((row) => ({ ...row, state: remember(row.subject!, (Date.parse(row.from!) + Date.parse(row.to!)) / 2) }));
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-confirm-"));
  try {
    await writeFile(join(folder, "to-confirm.csv"), stringify(rows, { header: true }));
    return [...(await readDiary({ ...month.site, folder, diary: ["to-confirm.csv"] })).entries];
  } finally {
    await rm(folder, { recursive: true });
  }
}

const truly = (subject: string, middle: number): string => (stateAt(month.truth.get(subject)!, middle) === 1 ? "occupied" : "empty");
const outcomesOf = ({ judgement }: JudgedRule): string[] => asked.moments.map((moment) => judgement.firingList.find((firing) => firing.at === moment.at)?.outcome ?? "gone");

describe("to-confirm.csv, filled in", () => {
  test("asks for what nobody vouches for", () => {
    expect(before.judgement.firings.unverified).toBe(before.judgement.firings.count);
    expect(before.judgement.firings.count).toBeGreaterThan(20);
    expect(asked.moments).toHaveLength(12);
    expect(new Set(asked.rows.map(({ subject }) => subject))).toEqual(new Set(["bay-1"]));
  });

  test("left blank it says nothing", async () => {
    expect(await filledIn(() => "")).toEqual([]);
  });

  test("with the truth in it, it is a diary: what was unverified is right, and the bounds move as foretold", async () => {
    const after = judged(await filledIn(truly));
    expect(outcomesOf(after)).toEqual(asked.moments.map(() => "right"));
    expect(after.judgement.firings.unverified).toBe(before.judgement.firings.unverified - asked.moments.length);
    expect(after.judgement.firings.wrong).toBe(0);
    expect(stakeOf(after, {}).wrongUpper).toBe(stakeOf(before, { right: asked.moments.length }).wrongUpper);
  });

  test("with the bay empty all the time, what was unverified is wrong, and the verdict falls as foretold", async () => {
    const after = judged(await filledIn(() => "empty"));
    expect(outcomesOf(after)).toEqual(asked.moments.map(() => "wrong"));
    expect(after.judgement.verdict).toBe("do not enable");
    const foretold = stakeOf(before, { wrong: asked.moments.length });
    expect(foretold.verdict).toBe("do not enable");
    expect(stakeOf(after, {}).wrongLower).toBe(foretold.wrongLower);
  });

  test("what is filled in is not asked again", async () => {
    const diary = await filledIn(truly);
    const again = toConfirm(month.site, [judged(diary)]);
    expect(again.count).toBe(asked.count - asked.moments.length);
    expect(again.rows.some((row) => diary.some((entry) => entry.from < row.to && row.from < entry.to))).toBe(false);
  });
});
