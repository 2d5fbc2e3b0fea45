import { expect, it } from "vitest";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

async function checked(log: string, site = tinySite, words: readonly string[] = []) {
  const folder = await folderWith({ "site.yaml": site, "log.csv": log });
  const around = listening(folder);
  expect(await runProgram(["check", "site.yaml", ...words], around), around.told()).toBe(0);
  return around.said();
}
const strip = (said: string, signal: string): string => new RegExp(`^    ${signal} +(\\S+)$`, "m").exec(said)?.[1] ?? "";

it("draws a strip a signal, a character a day", async () => {
  const said = await checked(tinyLog());
  expect(said).toContain("  day by day, 2026-06-01 to 2026-06-07: 0 to 7 how much of it was on, v few rows, . none, ! what was not understood\n");
  // Away from 8:00:30 to 17:01:40 each day: there for a little less than five eighths of it. The door is open for minutes.
  expect(strip(said, "overhead")).toBe("4444444");
  expect(strip(said, "rail")).toBe("1111111");
});

it("shows a band that does not fit as a strip that never changes", async () => {
  expect(strip(await checked(tinyLog(), tinySite.replace("present: [3.7, 4.7]", "present: [1, 2]")), "overhead")).toBe("0000000");
});

it("marks days on which something was not understood, and days without a row of a sensor that reports regularly", async () => {
  const odd = `${tinyLog()}2026-06-03T12:00:00Z,rail,ajar\n`;
  expect(strip(await checked(odd), "rail")).toBe("11!1111");
  const regular = tinySite.replace("open: [open], closed: [closed] }", "open: [open], closed: [closed], expect: 1h }");
  const dead = tinyLog().split("\n").filter((row) => !/2026-06-0[45].*rail/.test(row)).join("\n");
  expect(strip(await checked(dead, regular), "rail")).toMatch(/^.{3}\.\..{2}$/);
});

it("draws none with --quiet", async () => {
  expect(await checked(tinyLog(), tinySite, ["--quiet"])).not.toContain("day by day");
});
