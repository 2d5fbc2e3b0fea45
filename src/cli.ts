#!/usr/bin/env node
import { runProgram } from "./commands/program.js";

process.exitCode = await runProgram(process.argv.slice(2), {
  say: (text) => void process.stdout.write(text),
  tell: (text) => void process.stderr.write(text),
  tellsTerminal: process.stderr.isTTY,
  colour: process.stdout.isTTY && process.env["NO_COLOR"] === undefined,
  now: Date.now,
  folder: process.cwd(),
});
