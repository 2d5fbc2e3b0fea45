#!/usr/bin/env node
import { isatty } from "node:tty";
import { setFlagsFromString } from "node:v8";
import { watchOutput } from "./commands/output-watch.js";
import { runProgram } from "./commands/program.js";
import { removeBegun } from "./commands/unfinished.js";

// By default the heap grows to several times what is in use before it is collected: a month of ten million rows then takes
// half as much memory again, for no gain in time (`npm run bench`).
setFlagsFromString("--heap-growing-percent=30");
// By default a function is compiled for speed soon: in an audit that takes seconds, a fifth to a quarter of the processor's time went into
// functions that had almost done their work by then. This waits nine times as long; reading millions of rows is no slower for it.
setFlagsFromString("--interrupt-budget=1200000");

const tell = (text: string): void => void process.stderr.write(text);
const wasLost = watchOutput(process.stdout, tell);
watchOutput(process.stderr, () => undefined);

// Whoever interrupts a run leaves no record of when nobody is home lying about.
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP", "SIGQUIT"] as const) {
  process.on(signal, () => {
    removeBegun();
    process.removeAllListeners(signal);
    process.kill(process.pid, signal);
  });
}

/** Null if the folder is gone in which the command was started. */
function currentFolder(): string | null {
  try {
    return process.cwd();
  } catch {
    return null;
  }
}

const folder = currentFolder();
if (folder === null) tell("The folder in which the command was started is gone. To mend it: go to another folder, and start it there.\n");
const status = folder === null ? 1 : await runProgram(process.argv.slice(2), {
  say: (text) => void process.stdout.write(text),
  tell,
  tellsTerminal: process.stderr.isTTY,
  colour: process.stdout.isTTY && process.env["NO_COLOR"] === undefined,
  terminal: isatty(0) && isatty(1) ? { input: process.stdin, output: process.stdout } : null,
  now: Date.now,
  folder,
});
// Output may still be on its way.
process.on("exit", () => {
  process.exitCode = wasLost() ? 1 : status;
});
