import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { build } from "../../docs/place.js";
import { folderWith } from "../tiny-site.js";
import { atTerminal, keys } from "./pseudo-terminal.js";
import { willowHouse } from "./willow-house.js";

/** Turns the direction of writing round in each way, ends lines and paragraphs as Unicode does: a site file takes it in names. */
const TURNING = "\u2028\u2029\u202e\u202d\u202a\u2066\u2067\u2069\u061c\u200e\u200f";
/** What a file system takes besides: clears the screen, sets its title, rings, goes back, starts a line, resets; and by one byte. */
const STEERING = "\u001b[2J\u001b[31;5m\u001b]0;owned\u0007\r\n\b\u001bc\u009b31m\u009d0;owned\u009c\u007f";
const LONG = "very-long-name-".repeat(60);

/** What draws the questions: the cursor is hidden and shown, moved, and what stands behind it is emptied; what was not chosen is dim and struck out. */
const drawing = /\u001b\[(?:\?25[hl]|\d*[ABD]|2?J|[HK]|9m|29m|2m|22m)/g;

async function written(files: Readonly<Record<string, string>>, site: string): Promise<string> {
  const folder = join(await folderWith({ x: "" }), `in${STEERING}${TURNING}`);
  await mkdir(folder);
  for (const [name, content] of Object.entries(files)) await writeFile(join(folder, name), content);
  const quoted = `'${site.replaceAll("'", "'\\''")}'`;
  const run = atTerminal(`"${process.execPath}" "${join(build, "cli.js")}" confirm ${quoted} --month 2026-06`, folder);
  await run.when(["Question 1 of", "● Skip", "└"], keys.down);
  await run.when(["● Show what the sensors said", "└"], keys.enter);
  await run.when(["What the sensors said", "● Skip", "└"], keys.up.repeat(2) + keys.enter);
  await run.when(["Question 2 of", "1 answered", "● Skip", "└"], keys.down.repeat(2) + keys.enter);
  await run.when(["Question 1 of", "● Skip", "└"], keys.up.repeat(2) + keys.enter);
  await run.when(["Question 2 of", "1 answered", "● Skip", "└"], keys.interrupt);
  expect(await run.ended).toBe(0);
  expect(run.screen()).toContain("1 answer written into ");
  return run.written();
}

/** A house whose names of every sort hold `within`, and whose files are called so. */
function house(within: string, fileWithin: string): { files: Record<string, string>; site: string } {
  const plain = willowHouse({ wrongPerYear: 40, friendDay: 15 });
  const name = (word: string): string => JSON.stringify(word + within).slice(1, -1);
  const renamed = plain["site.yaml"]
    .replace("site: Willow House", `site: "${name("Willow House")}"`)
    .replace("bays: { bay:", `bays: { "${name("bay")}":`).replace("on: bay,", `on: "${name("bay")}",`)
    .replace("doors: { door:", `doors: { "${name("door")}":`).replace("on: door,", `on: "${name("door")}",`)
    .replace("people: { una:", `people: { "${name("una")}":`).replace("on: una,", `on: "${name("una")}",`)
    .replaceAll(/\b(overhead|rail|phone)(?=:|, (?:turned|is))/g, (word) => `"${name(word)}"`)
    .replaceAll(/channel: (\w+)/g, (_, word: string) => `channel: "${name(word)}"${word === "phone" ? `, shares: ["${name("hub")}"]` : ""}`)
    .replace("name: unlock on arrival", `name: "${name("unlock on arrival")}"`)
    .replace("files: log.csv", 'files: "log*.csv"').replace("files: diary.csv", 'files: "diary*.csv"');
  return {
    site: `site${fileWithin}.yaml`,
    files: {
      [`site${fileWithin}.yaml`]: renamed,
      [`log${fileWithin}.csv`]: plain["log.csv"].replaceAll(/,(overhead|rail|phone),/g, (_, word: string) => `,${word}${within},`),
      [`diary${fileWithin}.csv`]: plain["diary.csv"].replaceAll(/^una,(.*),$/gm, (_, rest: string) => `"una${within}",${rest},"met${STEERING}${TURNING}"`),
    },
  };
}

it.each([
  ["names that turn the writing round, and files and notes that steer the terminal", TURNING, STEERING + TURNING],
  ["names without end", LONG, "-".repeat(200)],
  ["names beyond the alphabet", " 🏡 שער بوابة 門", " 🏡 שער"],
])("%s: nothing steers the terminal but what draws the questions", async (_, within, fileWithin) => {
  const { files, site } = house(within, fileWithin);
  const bytes = await written(files, site);
  const rest = bytes.replaceAll(drawing, "");
  const raw = /.{0,30}[\u0000-\u0009\u000b\u000c\u000e-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069].{0,30}/u.exec(rest);
  expect(raw === null ? null : JSON.stringify(raw[0])).toBeNull();
  // Once for each of the five times that a question is put.
  expect(bytes.split("\u001b[2J").length - 1).toBe(5);
}, 120_000);
