import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/ground/problem.js";
import { lookAtText } from "../../src/intake/text-look.js";

const says = (file: string, text: string): string => {
  try {
    lookAtText(file, Buffer.from(text));
    return "read";
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
};

/** Runs the command that a message gives in a folder with the file, and returns what it wrote. */
function runs(file: string, bytes: string | Uint8Array, message: string): string {
  const folder = mkdtempSync(join(tmpdir(), "naming-"));
  writeFileSync(join(folder, file), bytes);
  execFileSync("sh", ["-c", commandOf(message)], { cwd: folder });
  const [written = ""] = readdirSync(folder).filter((name) => name !== file);
  expect(written).toMatch(/-named\.csv$/);
  return readFileSync(join(folder, written), "utf8");
}

function commandOf(message: string): string {
  const [, command = ""] = /run this where the file is: (.*) and draft from what it writes\.$/.exec(message) ?? [];
  return command;
}

describe("a file without column names is refused with the one command that names them", () => {
  it("of comma-separated rows", () => {
    const text = "2026-10-01T07:12:03,door,OPEN\n2026-10-01T07:12:09,door,CLOSED\n";
    const message = says("logs/my log.csv", text);
    expect(message).toMatch(/^logs\/my log\.csv:1: The file has no header row\. /);
    expect(runs("my log.csv", text, message)).toBe(`time,device,reading\n${text}`);
  });

  it("of rows between tabs, with the time of day apart", () => {
    const text = "door\t2026-10-01\t07:12:03\t4\tOPEN\n";
    expect(runs("log.txt", text, says("log.txt", text))).toBe(`device\ttime\tclock\tcolumn 4\treading\n${text}`);
  });

  it("of a packed file", () => {
    const text = "2026-10-01T07:12:03;1\n";
    expect(runs("log.csv.gz", gzipSync(text), says("log.csv.gz", text))).toBe(`time;reading\n${text}`);
  });

  it("of lines of words, whose date and time are joined; what some lines add stays as a note", () => {
    const text = "2026-10-01 07:12:03.2 door OPEN\n2026-10-01 07:12:09 mat 3,5\n2026-10-01  07:13:00 door OPEN going out\n";
    const message = says("log.txt", text);
    expect(message).toMatch(/^log\.txt:1: The file has one column only\. /);
    expect(runs("log.txt", text, message)).toBe("time\tdevice\treading\tnote\n2026-10-01T07:12:03.2\tdoor\tOPEN\t\n2026-10-01T07:12:09\tmat\t3,5\t\n2026-10-01T07:13:00\tdoor\tOPEN\t going out\n");
  });

  it.each([
    ["-n.csv", "2026-10-01T07:12:03,door,OPEN\n", "time,device,reading\n"],
    ["OFS=x.log", "2026-10-01 07:12:03 door OPEN\n", "time\tdevice\treading\tnote\n"],
    ["it's; touch $(x) `y` %s\\n.csv", "2026-10-01T07:12:03,door,OPEN\n", "time,device,reading\n"],
    ["*.log", "2026-10-01 07:12:03 door OPEN\n", "time\tdevice\treading\tnote\n"],
  ])("of a file called %s", (name, text, names) => {
    const written = runs(name, text, says(name, text));
    expect(written.split("\n")).toHaveLength(3);
    expect(written.startsWith(names)).toBe(true);
  });

  it.each([
    ["log.csv", "2026-10-01T07:12:03,door,OPEN\n"],
    ["log.txt", "2026-10-01 07:12:03 door OPEN\n"],
  ])("which writes over no other file (%s)", (name, text) => {
    const folder = mkdtempSync(join(tmpdir(), "naming-"));
    writeFileSync(join(folder, name), text);
    writeFileSync(join(folder, "log-named.csv"), "mine");
    const { status } = spawnSync("sh", ["-c", commandOf(says(name, text))], { cwd: folder });
    expect(status).not.toBe(0);
    expect(readFileSync(join(folder, "log-named.csv"), "utf8")).toBe("mine");
  });

  it("unless its name is not shown as it is", () => {
    expect(says("a\nb.csv", "2026-10-01T07:12:03,door,OPEN\n")).toMatch(/add a first line with them\.$/);
    expect(says("a\u202eb.txt", "2026-10-01 07:12:03 door OPEN\n")).toMatch(/export it as CSV with column names\.$/);
  });

  it("unless it lies inside another, or is no log", () => {
    expect(says("all.zip/log.csv", "2026-10-01T07:12:03,door,OPEN\n")).toMatch(/add a first line with them\.$/);
    expect(says("poem.txt", "one two three\nfour five six\n")).toMatch(/export it as CSV with column names\.$/);
  });
});
