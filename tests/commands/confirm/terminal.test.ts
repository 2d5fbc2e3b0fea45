import { readdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readDiary } from "../../../src/intake/diary.js";
import type { Question } from "../../../src/result/questions.js";
import { randomStream } from "../../../src/simulate/random.js";
import { loadSite } from "../../../src/site/load.js";
import { build } from "../../docs/place.js";
import { folderWith, tinyLog, tinySite } from "../tiny-site.js";
import { idaCame, nights, whose } from "./invented-questions.js";
import { atTerminal, keys } from "./pseudo-terminal.js";

/*
 * The built command at a pseudo-terminal, with invented questions: those that have no row in the diary yet are asked.
 * The list is: answers, "I don't know", "Skip" (where the mark stands), "Show what the sensors said", "Undo" after an answer, "Stop".
 */
const yes = keys.up.repeat(3) + keys.enter;
const no = keys.up.repeat(2) + keys.enter;
const unknown = keys.up + keys.enter;
const skip = keys.enter;
const sensors = keys.down + keys.enter;
const undo = keys.down.repeat(2) + keys.enter;

const header = "subject,state,from,to,note\r\n";
const kept = `subject,state,from,to,note\nida,,,,\nbay,empty,2026-06-01T09:00,2026-06-01T16:00,"sure, I was there"\n`;

const runner = `
import { readFileSync, writeFileSync } from "node:fs";
import { parse } from ${JSON.stringify(import.meta.resolve("csv-parse/sync"))};
import { runConfirm } from ${JSON.stringify(join(build, "commands/confirm.js"))};
writeFileSync("pid", String(process.pid));
const asked = () => {
  const list = JSON.parse(readFileSync("questions.json", "utf8"));
  let rows = [];
  try { rows = parse(readFileSync("diary.csv"), { columns: true }); } catch {}
  const told = ({ subject, from, to }) => rows.some((row) => row.subject === subject && Date.parse(row.from) < to && Date.parse(row.to) > from);
  return { list: list.filter((one) => !one.about.some(told)), rules: [], diaryEnds: null };
};
const around = { say: (text) => process.stdout.write(text), tell: (text) => process.stderr.write(text), tellsTerminal: false, colour: false, terminal: { input: process.stdin, output: process.stdout }, now: Date.now, folder: process.cwd() };
process.exitCode = await runConfirm({ siteFile: "site.yaml", period: { form: "all" }, quiet: true }, around, asked);
`;

async function household(questions: readonly Question[], diary: string | null) {
  const folder = await folderWith({
    "site.yaml": `${tinySite}${diary === null ? "" : "diary: { files: diary.csv }\n"}`,
    "log.csv": tinyLog(5),
    "questions.json": JSON.stringify(questions),
    "run.mjs": runner,
    ...(diary === null ? {} : { "diary.csv": diary }),
  });
  return { folder, confirm: () => atTerminal(`"${process.execPath}" run.mjs`, folder), text: (name: string) => readFile(join(folder, name), "utf8") };
}

it("answers, skips, undoes, notes what nobody knows, is interrupted, and goes on where it was", async () => {
  const home = await household([idaCame, nights, whose], null);
  const first = home.confirm();
  await first.when(["Question 1 of 3. Arrow keys and Enter choose.", idaCame.text, "● Skip", "└"], yes);
  await first.when(["Question 2 of 3, 1 answered.", nights.text, "└"], skip);
  expect(await home.text("diary.csv")).toMatch(/^subject,state,from,to,note\r\nida,away,2026-06-02T16:30:00\+01:00,2026-06-02T16:55:00\+01:00,answered .*\r\nida,here,2026-06-02T17:10:00\+01:00,.*\r\n$/);
  await first.when(["Question 3 of 3, 1 answered.", whose.text, "Undo my last answer", "└"], undo);
  await first.when(["Question 1 of 3.", "● Skip", "└"], sensors);
  expect(await home.text("diary.csv")).toBe(header);
  expect(first.screen()).not.toContain("What the sensors said, ");
  await first.when(["What the sensors said, 2 Jun 2026 16:00 to 2 Jun 2026 19:00", "overhead", "phone", "● Skip", "└"], no);
  await first.when(["Question 2 of 3, 1 answered.", "└"], skip);
  await first.when(["Question 3 of 3", "● Skip", "└"], unknown);
  await first.when(["That was the last question.", "└"], keys.enter);
  expect(await first.ended).toBe(0);
  expect(first.screen()).toMatch(
    /The site file names no diary yet; answers go into a new file, diary\.csv, and the line `diary: \{ files: diary\.csv \}` is added to site\.yaml\.\s+2 answers written into diary\.csv, 1 of them "I don't know"\.\s+1 question is left: run `keyworthy confirm site\.yaml` again whenever you like\.\s+To see what comes of it: keyworthy audit site\.yaml\s+$/,
  );
  const after = await home.text("diary.csv");
  expect(after.split("\r\n").map((row) => row.split(",").slice(0, 2).join())).toEqual(["subject,state", "ida,away", "bay,", ""]);

  // Started again: what was answered or not known does not come back. Ctrl-C changes nothing.
  const second = home.confirm();
  await second.when(["Question 1 of 1.", nights.text, "└"], keys.interrupt);
  expect(await second.ended).toBe(0);
  expect(second.screen()).toContain("No answer was given, and nothing was written.");
  expect(await home.text("diary.csv")).toBe(after);

  const third = home.confirm();
  await third.when(["Question 1 of 1.", "└"], yes);
  await third.when(["Yes. Except on", "the night of 2 June", "└"], keys.down + keys.space + keys.enter);
  await third.when(["That was the last question.", "└"], keys.enter);
  expect(await third.ended).toBe(0);
  expect((await home.text("diary.csv")).slice(after.length)).toMatch(/^ida,here,2026-06-01T23:00:00\+01:00,.*\r\nida,here,2026-06-03T23:00:00\+01:00,.*\r\n$/);

  const fourth = home.confirm();
  expect(await fourth.ended).toBe(0);
  expect(fourth.screen()).toContain("There is nothing to ask you.");
  // What was made besides is gone.
  expect((await readdir(home.folder)).toSorted()).toEqual(["diary.csv", "log.csv", "pid", "questions.json", "run.mjs", "site.yaml"]);
  await rm(home.folder, { recursive: true });
});

it("leaves the diary whole when it is killed at any moment, with every answer after which something else was shown", async () => {
  const hours = Array.from({ length: 60 }, (_, i) => ({ from: Date.parse("2026-06-02T00:00:00Z") + i * 3_600_000, to: Date.parse("2026-06-02T00:30:00Z") + i * 3_600_000 }));
  const many = hours.map((when, i): Question => ({ ...whose, id: `${i}`, about: [{ subject: "bay", ...when }], answers: ["occupied", "empty"].map((state) => ({ says: state, rows: [{ subject: "bay", state, ...when }] })) }));
  const random = randomStream(20_261_126, "kill");
  const home = await household(many, kept);
  const site = await loadSite(join(home.folder, "site.yaml"));
  let answers = 0;
  for (let round = 0; round < 5; round += 1) {
    const before = await home.text("diary.csv");
    const run = home.confirm();
    const last = Math.floor(random() * 6);
    let acknowledged = -1;
    while (await run.when([`Question ${acknowledged + 2} of`, "● Skip", "└"], yes).then(() => true, () => false)) {
      acknowledged += 1;
      // In the midst of writing, or of drawing the next question.
      if (acknowledged === last) setTimeout(() => void killNode(home.folder), random() * 120);
    }
    expect(acknowledged).toBeGreaterThanOrEqual(last);
    const after = await home.text("diary.csv");
    expect(after.startsWith(before)).toBe(true);
    const rows = (await readDiary(site)).entries.length - 1;
    expect(after.endsWith("\n")).toBe(true);
    expect(rows - answers).toBeGreaterThanOrEqual(acknowledged);
    expect(rows - answers).toBeLessThanOrEqual(acknowledged + 1);
    answers = rows;
  }
  expect(answers).toBeGreaterThan(5);
  // The next run is not held up by what the killed ones left, and sweeps it.
  const next = home.confirm();
  await next.when(["● Skip", "└"], yes);
  await next.when(["● Skip", "└"], keys.interrupt);
  expect(await next.ended).toBe(0);
  expect((await readdir(home.folder)).filter((name) => name.startsWith("."))).toEqual([]);
  await rm(home.folder, { recursive: true });
}, 180_000);

it("asks nobody where there is no question, and says so at the real command", async () => {
  const folder = await folderWith({ "site.yaml": tinySite, "log.csv": tinyLog(2) });
  const run = atTerminal(`"${process.execPath}" "${join(build, "cli.js")}" confirm site.yaml --quiet`, folder);
  expect(await run.ended).toBe(0);
  expect(run.screen()).toContain("There is nothing to ask you.");
  await rm(folder, { recursive: true });
});

async function killNode(folder: string): Promise<void> {
  process.kill(Number(await readFile(join(folder, "pid"), "utf8")), "SIGKILL");
}
