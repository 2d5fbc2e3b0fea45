import { readdir, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readDiary } from "../../../src/intake/diary.js";
import { runProgram } from "../../../src/commands/program.js";
import { findingsSchema, type Findings } from "../../../src/result/findings.js";
import { decoded } from "../../../src/result/json-text.js";
import type { Question } from "../../../src/result/questions.js";
import { randomStream } from "../../../src/simulate/random.js";
import { loadSite } from "../../../src/site/load.js";
import { build } from "../../docs/place.js";
import { folderWith, listening, tinyLog, tinySite } from "../tiny-site.js";
import { atTerminal, keys, type AtTerminal } from "./pseudo-terminal.js";
import { willowHouse } from "./willow-house.js";

/*
 * The built command at a pseudo-terminal, at an invented house. The list is: answers, "I don't know", "Skip" (where the mark stands),
 * "Show what the sensors said" until they are shown, "Undo" after an answer, "Stop".
 */
const choose = ({ answers }: Pick<Question, "answers">, answer: number): string => keys.up.repeat(answers.length + 1 - answer) + keys.enter;
const unknown = keys.up + keys.enter;
const skip = keys.enter;
const undo = keys.down.repeat(2) + keys.enter;
const stop = keys.down.repeat(3) + keys.enter;

const month = "--month 2026-06 --quiet";

async function house(files: Readonly<Record<string, string>>) {
  const folder = await folderWith(files);
  return {
    folder,
    /** The shell leaves its process to the command, so `pid` tells whom to kill. */
    confirm: (): AtTerminal => atTerminal(`sh -c 'echo $$ > pid; exec "${process.execPath}" "${join(build, "cli.js")}" confirm site.yaml ${month}'`, folder),
    text: (name: string) => readFile(join(folder, name), "utf8"),
    async audited(): Promise<Findings> {
      expect(await runProgram(["audit", "site.yaml", ...month.split(" ")], listening(folder))).toBe(3);
      return decoded(findingsSchema, JSON.parse(await readFile(join(folder, "reports/willow-house/2026-06/findings.json"), "utf8"))).data!;
    },
  };
}

const ids = ({ questions }: Pick<Findings, "questions">): string[] => questions.list.map(({ id }) => id);

it("asks what the audit found; answers, skips, undoes, notes what nobody knows, stops, goes on where it was; the next audit uses the answers", async () => {
  const home = await house(willowHouse({ wrongPerYear: 40, friendDay: 15 }));
  const before = await home.audited();
  const list = before.questions.list;
  const [first, second, third, fourth] = list as [Question, Question, Question, Question];
  const kept = await home.text("diary.csv");

  const one = home.confirm();
  await one.when([`Question 1 of ${list.length}. Arrow keys and Enter choose.`, first.text, ...first.answers.map(({ says }) => says), "● Skip", "└"], choose(first, 0));
  await one.when([`Question 2 of ${list.length}, 1 answered.`, second.text, "└"], skip);
  expect(await home.text("diary.csv")).toMatch(/\nuna,here,2026-06-10T17:03:49\+01:00,2026-06-10T17:07:09\+01:00,answered \d{4}-\d\d-\d\d\n$/);
  await one.when([`Question 3 of ${list.length}, 1 answered.`, third.text, "Undo my last answer", "└"], undo);
  await one.when([`Question 1 of ${list.length}.`, "● Skip", "└"], keys.down);
  expect(await home.text("diary.csv")).toBe(kept);
  expect(one.screen()).not.toContain("What the sensors said, ");
  await one.when(["● Show what the sensors said", "└"], keys.enter);
  await one.when(["What the sensors said, 10 Jun 2026 16:35 to 10 Jun 2026 17:17", "overhead", "rail", "phone", "● Skip", "└"], choose(first, 0));
  await one.when([`Question 2 of ${list.length}, 1 answered.`, "└"], skip);
  await one.when([third.text, "● Skip", "└"], unknown);
  await one.when([fourth.text, "● Skip", "└"], stop);
  expect(await one.ended).toBe(0);
  expect(one.screen()).toMatch(new RegExp(`2 answers written into diary\\.csv, 1 of them “I don't know”\\.\\s+${list.length - 2} questions are left: run .keyworthy confirm site\\.yaml --month 2026-06. again whenever you like\\.\\s+To see what comes of it: keyworthy audit site\\.yaml --month 2026-06\\s+$`));
  const after = await home.text("diary.csv");
  expect(after.startsWith(kept)).toBe(true);
  expect(after.slice(kept.length).split("\n").map((row) => row.split(",").slice(0, 2).join())).toEqual(["una,here", "una,", ""]);

  // Started again: what was answered or not known does not come back, what was skipped does. Ctrl-C keeps what was answered before it.
  const two = home.confirm();
  await two.when(["Question 1 of", second.text, "● Skip", "└"], choose(second, 0));
  await two.when(["Question 2 of", fourth.text, "└"], keys.interrupt);
  expect(await two.ended).toBe(0);
  expect(two.screen()).toContain("1 answer written into diary.csv.");
  expect(two.screen()).not.toContain(first.text);
  expect(two.screen()).not.toContain(third.text);

  const now = await home.audited();
  expect(now.questions.list.length).toBeGreaterThan(0);
  expect(ids(now)).not.toEqual(expect.arrayContaining([first.id]));
  for (const { id } of [first, second, third]) expect(ids(now)).not.toContain(id);
  expect(now.diary.entries).toBe(before.diary.entries + 3);
  expect(now.rules[0]!.firings).toEqual({ ...before.rules[0]!.firings, right: before.rules[0]!.firings.right + 2, unverified: before.rules[0]!.firings.unverified - 2 });
  // What was made besides is gone.
  expect((await readdir(home.folder)).toSorted()).toEqual(["diary.csv", "log.csv", "pid", "reports", "site.yaml"]);
  await rm(home.folder, { recursive: true });
}, 180_000);

it("makes the diary and the line that names it; whole when it is killed at any moment, with every answer after which something else was shown", async () => {
  const files = willowHouse({ wrongPerYear: 5, friendDay: 28 });
  const home = await house({ "log.csv": files["log.csv"], "site.yaml": files["site.yaml"].replace(/diary:.*\n/, "") });
  const random = randomStream(20_261_126, "kill");
  const yes = choose({ answers: Array.from({ length: 3 }, () => ({ says: "", rows: [] })) }, 0);
  let answers = 0;
  for (let round = 0; round < 4; round += 1) {
    const before = await home.text("diary.csv").catch(() => "");
    const run = home.confirm();
    const last = Math.floor(random() * 4);
    let acknowledged = -1;
    while (await run.when([`Question ${acknowledged + 2} of`, "● Skip", "└"], yes).then(() => true, () => false)) {
      acknowledged += 1;
      // In the midst of writing, or of drawing the next question.
      if (acknowledged === last) setTimeout(() => void killCommand(home.folder), random() * 120);
    }
    expect(acknowledged).toBeGreaterThanOrEqual(last);
    const after = await home.text("diary.csv").catch(() => "");
    expect(after.startsWith(before)).toBe(true);
    expect(after === "" || after.endsWith("\n")).toBe(true);
    // Killed before the line that names the diary was there, the site has none yet.
    const { entries } = await readDiary(await loadSite(join(home.folder, "site.yaml")));
    // Each of these answers writes two rows: away before, here after.
    expect(entries.map(({ state }) => state)).toEqual(entries.map((_, i) => i % 2));
    expect(entries.length / 2 - answers).toBeGreaterThanOrEqual(acknowledged);
    expect(entries.length / 2 - answers).toBeLessThanOrEqual(acknowledged + 1);
    answers = entries.length / 2;
  }
  expect(answers).toBeGreaterThan(3);
  expect(await home.text("site.yaml")).toMatch(/\ndiary: \{ files: diary\.csv \}\n$/);
  // The next run is not held up by what the killed ones left, and sweeps it.
  const next = home.confirm();
  await next.when(["● Skip", "└"], yes);
  await next.when(["● Skip", "└"], keys.interrupt);
  expect(await next.ended).toBe(0);
  expect((await readdir(home.folder)).filter((name) => name.startsWith("."))).toEqual([]);
  await rm(home.folder, { recursive: true });
}, 180_000);

it("asks nobody where no answer changes a verdict, and says why", async () => {
  const folder = await folderWith({ "site.yaml": tinySite.replace(/when: .*/, "when: { signal: phone, turned: here, within: 10min }"), "log.csv": tinyLog(2) });
  const run = atTerminal(`"${process.execPath}" "${join(build, "cli.js")}" confirm site.yaml --quiet`, folder);
  expect(await run.ended).toBe(0);
  expect(run.screen()).toMatch(/There is nothing to ask you\.\s+unlock on arrival: More answers change nothing: phone alone can unlock it\./);
  await rm(folder, { recursive: true });
}, 60_000);

async function killCommand(folder: string): Promise<void> {
  process.kill(Number(await readFile(join(folder, "pid"), "utf8")), "SIGKILL");
}
