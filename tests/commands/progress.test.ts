import { describe, expect, it } from "vitest";
import { makeProgress, type Progress } from "../../src/commands/progress.js";
import { runProgram } from "../../src/commands/program.js";
import { folderWith, listening, tinyLog, tinySite } from "./tiny-site.js";

const MEGABYTE = 1_000_000;

/** A pretend terminal, or none, with a clock that is set by hand; what was told, piece by piece. */
function watched(tellsTerminal: boolean, quiet = false): { readonly progress: Progress; readonly told: string[]; readonly at: (seconds: number) => void } {
  let now = Date.UTC(2026, 6, 1);
  const told: string[] = [];
  const begin = now;
  const progress = makeProgress({ ...listening("/"), tellsTerminal, now: () => now, tell: (text) => void told.push(text) }, quiet);
  return { progress, told, at: (seconds) => void (now = begin + seconds * 1000) };
}

const reading = (share: number, rows: number, file = "log.csv"): Parameters<Progress["onProgress"]>[0] => ({ file, bytes: share * MEGABYTE, totalBytes: MEGABYTE, rows });

describe("progress on a terminal", () => {
  it("is one line with a bar, rows, rows a second and the time left, drawn over the one before", () => {
    const { progress, told, at } = watched(true);
    at(4);
    progress.onProgress(reading(0.25, 100_000));
    at(8);
    progress.onProgress(reading(0.5, 200_000));
    expect(told).toEqual([
      "\r\u001b[Kreading log.csv: █████░░░░░░░░░░░░░░░ 25 %, 100,000 rows, 25,000 a second, about 12 s left",
      "\r\u001b[Kreading log.csv: ██████████░░░░░░░░░░ 50 %, 200,000 rows, 25,000 a second, about 8 s left",
    ]);
  });

  it("tells long times in minutes, and none while hardly anything was read", () => {
    const { progress, told, at } = watched(true);
    at(1);
    progress.onProgress(reading(0.01, 1000));
    at(60);
    progress.onProgress(reading(0.1, 60_000));
    expect(told.map((line) => line.replace(/^[^%]*%, /, ""))).toEqual(["1,000 rows, 1,000 a second", "60,000 rows, 1,000 a second, about 9 min left"]);
  });

  it("is not drawn more than ten times a second, but says at once what comes after reading", () => {
    const { progress, told, at } = watched(true);
    at(1);
    progress.onProgress(reading(0.5, 10));
    at(1.05);
    progress.onProgress(reading(0.6, 12));
    progress.onProgress(reading(1, 20));
    progress.step("writing the report");
    progress.clear();
    expect(told.slice(1)).toEqual(["\r\u001b[K20 rows read; working on them", "\r\u001b[Kwriting the report", "\r\u001b[K"]);
  });

  it("moves no cursor for a file whose name would, and shortens a long one", () => {
    const { progress, told, at } = watched(true);
    at(1);
    progress.onProgress(reading(0.5, 10, "a\u001b[2Jb\n.csv"));
    at(2);
    progress.onProgress(reading(0.5, 10, `${"deep/".repeat(20)}log.csv`));
    expect(told[0]).toContain("reading a·[2Jb·.csv: ");
    expect(told[1]).toContain("reading …p/deep/deep/deep/deep/log.csv: ");
  });
});

describe("progress without a terminal", () => {
  it("is a line every ten seconds, without a bar, and none for short work", () => {
    const { progress, told, at } = watched(false);
    for (let second = 1; second <= 25; second += 1) {
      at(second);
      progress.onProgress(reading(second / 100, second * 1000));
    }
    at(26);
    progress.step("writing the report");
    progress.clear();
    expect(told).toEqual(["reading log.csv: 10 %, 10,000 rows, 1,000 a second, about 90 s left\n", "reading log.csv: 20 %, 20,000 rows, 1,000 a second, about 80 s left\n"]);
  });
});

describe("--quiet", () => {
  it("shows nothing, on a terminal or not", () => {
    for (const tellsTerminal of [true, false]) {
      const { progress, told, at } = watched(tellsTerminal, true);
      at(20);
      progress.onProgress(reading(0.5, 10));
      progress.step("writing the report");
      progress.clear();
      expect(told).toEqual([]);
    }
  });
});

describe("the program", () => {
  const files = { "site.yaml": tinySite, "log.csv": tinyLog() };

  it.each([["audit"], ["check"], ["propose"]])("tells the progress of %s beside its result, never in it, and leaves the line empty", async (command) => {
    const around = { ...listening(await folderWith(files)), tellsTerminal: true };
    await runProgram([command, "site.yaml"], around);
    expect(around.told()).toMatch(/\r\u001b\[K\d+ rows read; working on them/);
    expect(around.told().endsWith("\r\u001b[K")).toBe(true);
    expect(around.said()).not.toMatch(/\u001b|rows read; working/);
  });

  it("tells nothing with --quiet", async () => {
    const around = { ...listening(await folderWith(files)), tellsTerminal: true };
    await runProgram(["audit", "site.yaml", "--quiet"], around);
    expect(around.told()).toBe("");
  });
});
