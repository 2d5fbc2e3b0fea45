#!/usr/bin/env node
import { setFlagsFromString } from "node:v8";
import { runProgram } from "./commands/program.js";

// Left alone, the heap may grow to several times what is in use before it is swept: a month of ten million rows then takes
// half as much memory again, for no gain in time (`npm run bench`).
setFlagsFromString("--heap-growing-percent=30");

process.exitCode = await runProgram(process.argv.slice(2), {
  say: (text) => void process.stdout.write(text),
  tell: (text) => void process.stderr.write(text),
  tellsTerminal: process.stderr.isTTY,
  colour: process.stdout.isTTY && process.env["NO_COLOR"] === undefined,
  now: Date.now,
  folder: process.cwd(),
});
