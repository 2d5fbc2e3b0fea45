/**
 * Gives damaged inputs to everything that reads files: `npm run fuzz`, or with options
 * `npm run fuzz -- --format csv,gpx --count 5000 --seed 7 --seconds 600 --cli 20`, or one input again: `--format csv --only 123 --seed 7`.
 * A fault is a crash, a hang, a ledger that does not add up, an exit status that is not documented, a stack trace, or a raw control
 * character on a terminal. The inputs at fault are left in `.build/fuzz/`: copy them to `tests/fuzz/saved/`, whose test takes each again.
 */
import { fork, spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { mkdir, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { Told } from "./taker.js";
import { inputOf, prepared, type Target } from "./target.js";
import { targetNames, targetOf } from "./targets.js";

/** More of the processor's time over one input is a hang. */
const LONGEST_MS = 5_000;
/** And so much by the clock, whatever else the machine does. */
const LONGEST_CLOCK_MS = 30_000;
const LOOK_EVERY_MS = 500;
/** A process that takes more has been filled by an input. */
const MOST_MEGABYTES = 1_000;
/** Enough that time is what ends a run. */
const ENDLESS = 1_000_000_000;

interface Fault {
  readonly nth: number;
  readonly what: string;
  /** The process was lost over it. */
  readonly isLost?: boolean;
}

/** Tells at its end how much of the processor's time a run of the program took. */
const measuring = `data:text/javascript,${encodeURIComponent("process.on('exit',()=>{const {user,system}=process.cpuUsage();process.stderr.write('\\nCPU '+Math.round((user+system)/1000)+'\\n')})")}`;

/** The processor's time a process took so far; null where the system does not tell. */
function processorMs(pid: number | undefined): number | null {
  try {
    // In hundredths of a second: the 14th and 15th field behind the name in brackets (proc(5)).
    const fields = readFileSync(`/proc/${pid ?? 0}/stat`, "utf8").replace(/^.*\) /s, "").split(" ");
    return (Number(fields[11]) + Number(fields[12])) * 10;
  } catch {
    return null;
  }
}

interface Sum {
  inputs: number;
  read: number;
  slowestMs: number;
  /** Inputs over which the reader fell or never came back, and that the program refused in good time. */
  endedApart: number;
  megabytes: number;
  readonly faults: Fault[];
}

const { values } = parseArgs({
  options: {
    format: { type: "string", default: targetNames.join(",") },
    seed: { type: "string", default: "1" },
    count: { type: "string", default: String(ENDLESS) },
    seconds: { type: "string" },
    cli: { type: "string", default: "2" },
    only: { type: "string" },
  },
});
const formats = values.format.split(",");
const strangers = formats.filter((one) => !targetNames.some((name) => name === one));
if (strangers.length > 0) {
  process.stderr.write(`nothing is called ${strangers.join(", ")}: there are ${targetNames.join(", ")}\n`);
  process.exit(2);
}
const seed = Number(values.seed);
const count = values.only === undefined ? Number(values.count) : 1;
// A count is to be reached; without one a minute is for all formats together.
const secondsOfAll = Number(values.seconds ?? (count === ENDLESS ? 60 : ENDLESS));
const first = Number(values.only ?? 0);

/** Has inputs taken by processes, a new one behind every input at which one was lost. */
async function fuzzed(format: string, seconds: number): Promise<Sum> {
  const sum: Sum = { inputs: 0, read: 0, slowestMs: 0, endedApart: 0, megabytes: 0, faults: [] };
  const until = performance.now() + seconds * 1000;
  let next = first;
  while (next < first + count && performance.now() < until) {
    const lostAt = await taken(format, next, first + count - next, (until - performance.now()) / 1000, sum);
    if (lostAt === null) break;
    next = lostAt + 1;
  }
  return sum;
}

/** The number of the input over which the process was lost; null if it took all. */
function taken(format: string, from: number, most: number, seconds: number, sum: Sum): Promise<number | null> {
  return new Promise((resolve) => {
    const child = fork(join(import.meta.dirname, "taker.js"), [format, String(seed), String(from), String(most), String(seconds)], { stdio: ["ignore", "ignore", "pipe", "ipc"], execArgv: ["--max-old-space-size=1024"] });
    let said = "";
    let at = from;
    let isDone = false;
    let looking: NodeJS.Timeout | undefined;
    let isLate = false;
    child.stderr?.on("data", (chunk: Buffer) => (said = (said + chunk.toString()).slice(-4_000)));
    child.on("message", (told: Told) => {
      if (told.kind === "begins") {
        at = told.nth;
        const [begun, before] = [performance.now(), processorMs(child.pid)];
        looking = setInterval(() => {
          const now = processorMs(child.pid);
          const clockMs = performance.now() - begun;
          const ms = now === null || before === null ? clockMs : now - before;
          if (ms < LONGEST_MS && clockMs < LONGEST_CLOCK_MS) return;
          isLate = true;
          child.kill("SIGKILL");
        }, LOOK_EVERY_MS);
        return;
      }
      clearInterval(looking);
      if (told.kind === "done") {
        isDone = true;
        sum.megabytes = Math.max(sum.megabytes, told.megabytes);
        if (told.megabytes > MOST_MEGABYTES) sum.faults.push({ nth: at, what: `some input up to this one took ${Math.round(told.megabytes)} MB` });
        return;
      }
      sum.inputs++;
      if (told.kind === "fault") sum.faults.push({ nth: told.nth, what: told.what });
      else {
        if (told.came === "read") sum.read++;
        sum.slowestMs = Math.max(sum.slowestMs, told.ms);
      }
    });
    child.on("exit", (status, signal) => {
      clearInterval(looking);
      if (isDone) {
        resolve(null);
        return;
      }
      sum.faults.push({ nth: at, isLost: true, what: isLate ? `nothing came of it in ${LONGEST_MS / 1000} s` : `the process ended with ${status ?? signal ?? "nothing"}: ${said}` });
      sum.inputs++;
      resolve(at);
    });
  });
}

/** Gives an input to the built program itself; what is wrong then, or null. */
async function wrongWithProgram(target: Target, nth: number): Promise<string | null> {
  const folder = await mkdtemp(join(tmpdir(), "keyworthy-fuzz-"));
  await prepared(folder, target);
  await writeFile(join(folder, target.file), inputOf(target, seed, nth));
  const { status, stderr } = spawnSync(process.execPath, ["--import", measuring, join(process.cwd(), ".build/cli.js"), ...target.command.words], { cwd: folder, encoding: "utf8", timeout: LONGEST_CLOCK_MS, killSignal: "SIGKILL" });
  await rm(folder, { recursive: true });
  const ms = Number(/\nCPU (\d+)\n/.exec(stderr)?.[1] ?? Infinity);
  const wrong = status === null || !target.command.may.includes(status) ? `ended with ${status ?? "nothing"}` : /^ {4}at .*:\d+:\d+\)?$|not your fault|Unhandled/m.test(stderr) ? "showed a stack trace" : ms > LONGEST_MS ? `took ${ms} ms` : null;
  return wrong === null ? null : `keyworthy ${target.command.words.join(" ")} ${wrong}\n${stderr.slice(-2_000)}`;
}

/** Gives some inputs to the program, evenly among those that were taken; and those that only a program of its own may read. */
async function withProgram(target: Target, sum: Sum, runs: number): Promise<void> {
  const all = sum.faults.splice(0);
  for (const fault of all) {
    if (target.isReadApart !== true || fault.isLost !== true) {
      sum.faults.push(fault);
      continue;
    }
    const wrong = await wrongWithProgram(target, fault.nth);
    if (wrong === null) sum.endedApart++;
    else sum.faults.push({ ...fault, what: `${fault.what}\n${wrong}` });
  }
  for (let i = 0; i < Math.min(runs, sum.inputs); i++) {
    const nth = first + Math.floor((i * sum.inputs) / runs);
    const what = await wrongWithProgram(target, nth);
    if (what !== null) sum.faults.push({ nth, what });
  }
}

let hasFaults = false;
for (const [i, format] of formats.entries()) {
  const begun = performance.now();
  const sum = await fuzzed(format, secondsOfAll / formats.length);
  const target = await targetOf(format);
  await withProgram(target, sum, values.only === undefined ? Number(values.cli) : 1);
  const seconds = ((performance.now() - begun) / 1000).toFixed(0);
  process.stdout.write(`${i === 0 ? `seed ${seed}\n` : ""}${format.padEnd(10)} ${sum.inputs} inputs, ${sum.read} read, ${sum.inputs - sum.read} refused or at fault${sum.endedApart > 0 ? ` (${sum.endedApart} ended by the program in good time)` : ""}, slowest ${Math.round(sum.slowestMs)} ms, ${Math.round(sum.megabytes)} MB, ${sum.faults.length} faults, ${seconds} s\n`);
  if (sum.faults.length === 0) continue;
  hasFaults = true;
  await mkdir(".build/fuzz", { recursive: true });
  for (const { nth, what } of sum.faults.slice(0, 50)) {
    const saved = join(".build/fuzz", `${format}.${seed}-${nth}`);
    await writeFile(saved, inputOf(target, seed, nth));
    process.stdout.write(`  ${saved}: ${what.split("\n").slice(0, 6).join("\n    ")}\n`);
  }
}
process.exitCode = hasFaults ? 1 : 0;
