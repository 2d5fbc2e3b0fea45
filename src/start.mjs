#!/usr/bin/env node
/*
 * What the command `keyworthy` starts: the built program, or a word on what is missing for it. Plain JavaScript, as it has to run before anything
 * is built or installed, and on any version of Node.
 */
import { existsSync, readFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const built = new URL("../.build/cli.js", import.meta.url);

/** The lowest version of Node, as package.json has it. */
function neededNode() {
  const { engines } = JSON.parse(readFileSync(new URL("../package.json", import.meta.url), "utf8"));
  return engines.node.replace(">=", "");
}

function isOlder(version, than) {
  const [major, minor] = version.split(".").map(Number);
  const [leastMajor, leastMinor] = than.split(".").map(Number);
  return major < leastMajor || (major === leastMajor && minor < leastMinor);
}

function stop(text, status = 2) {
  process.stderr.write(`${text}\n`);
  process.exitCode = status;
}

const needed = neededNode();
if (isOlder(process.versions.node, needed)) stop(`Keyworthy needs Node.js ${needed} or newer; this is ${process.versions.node}. To mend it: install a newer one, and start again.`);
else if (!existsSync(built)) stop(`Keyworthy is not built yet in ${root}. To mend it: go to that folder and run npm ci && npm run build; then start again.`);
else {
  import(built.href).catch((error) => {
    // The program says so itself once it runs; its own files come first.
    if (error.code === "EMFILE" || error.code === "ENFILE") return stop(`Too many files are open to start Keyworthy. Found ${error.code}. To mend it: raise the limit (ulimit -n), or close other programs.`, 1);
    if (error.code !== "ERR_MODULE_NOT_FOUND") throw error;
    stop(`Keyworthy is built, but what it needs is not installed: ${error.message.split("\n", 1).join()}. To mend it: run npm ci in ${root}; then start again.`);
  });
}
