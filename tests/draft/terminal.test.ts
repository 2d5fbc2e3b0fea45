import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, it } from "vitest";
import { atTerminal, keys } from "../commands/confirm/pseudo-terminal.js";
import { folderWith } from "../commands/tiny-site.js";
import { build } from "../docs/place.js";
import { iso, meterRows } from "./invented-exports.js";

const HOUR = 3_600_000;
const gate = Array.from({ length: 60 }, (_, i) => [`${iso(Date.UTC(2026, 5, 1, 12) + i * 4 * HOUR)},gate,ON`, `${iso(Date.UTC(2026, 5, 1, 12, 1) + i * 4 * HOUR)},gate,OFF`]).flat();
const log = ["stamp,channel,reading", ...meterRows([{ channel: "bay 1", bay: 1, near: 4.2, far: 8.1 }]), ...gate].join("\n");
const command = `"${process.execPath}" "${join(build, "cli.js")}" draft exports --out site.yaml`;

it("asks at a terminal, takes only what can be, and writes a file that loads", async () => {
  const folder = await folderWith({ "exports/log.csv": log, "exports/notes.txt": "hello" });
  const terminal = atTerminal(command, folder);
  await terminal.when(["bay 1".replace(" ", "-"), "1 of 3: in which time zone is the site?", "└"], `Lisbon${keys.enter}`);
  await terminal.when(["This is not a time zone such as Europe/London."], `${"\u007f".repeat(6)}Europe/Lisbon${keys.enter}`);
  // Who presses Enter too early at a question that blocks has decided nothing: the mark stands on "Later".
  await terminal.when(["2 of 3: signal gate: which of", '"ON" means open', "● Later: I shall write it into the file", "└"], keys.up.repeat(2) + keys.enter);
  await terminal.when(["3 of 3: which rules shall be judged?", "● Both", "└"], keys.interrupt);
  expect(await terminal.ended).toBe(0);
  expect(terminal.screen()).toContain("set aside: exports/notes.txt");
  expect(terminal.screen()).toContain("Nothing is left open. Next: keyworthy check site.yaml");
  const yaml = await readFile(join(folder, "site.yaml"), "utf8");
  expect(yaml).toContain("timezone: Europe/Lisbon");
  expect(yaml).toContain("    open: [\"ON\"]");
  expect(yaml).toContain("# rules:");
});

it("asks nobody with --quiet", async () => {
  const folder = await folderWith({ "exports/log.csv": log });
  expect(await atTerminal(`${command} --quiet`, folder).ended).toBe(0);
  expect(await readFile(join(folder, "site.yaml"), "utf8")).toContain("timezone: FILL-IN");
});
