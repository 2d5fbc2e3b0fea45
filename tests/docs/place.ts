import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { chmod, mkdir, mkdtemp, readdir, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { atTerminal, keys } from "../commands/confirm/pseudo-terminal.js";
import { onlyNamed } from "./only-named.js";
import { commandsOf, pageText } from "./page-commands.js";

/** A build of one's own, named by hand: as old as whoever names it wants it to be. */
const named = process.env["KEYWORTHY_BUILD"];
/** The built program. */
export const build = resolve(named ?? ".build");

/** How a command line ended, and what it wrote to the standard output (`said`) and the standard error (`told`). */
export interface Ran {
  readonly status: number;
  readonly said: string;
  readonly told: string;
}

/** A temporary folder in which commands can be typed as a reader would type them. */
export interface Place {
  readonly folder: string;
  /** Runs a command line with bash. `keyworthy` is the built program, on the path and where npx finds it. */
  readonly run: (command: string, environment?: Readonly<Record<string, string>>) => Promise<Ran>;
  /** Writes files (path from the folder → content). */
  readonly write: (files: Readonly<Record<string, string | Uint8Array>> | ReadonlyMap<string, string | Uint8Array>) => Promise<void>;
  /** Names in a folder below, in order. */
  readonly list: (path: string) => Promise<string[]>;
  readonly remove: () => Promise<void>;
}

/** Makes a place whose folder has this name, with nothing in it. Throws if what was built is older than the source. */
export async function makePlace(name: string): Promise<Place> {
  await refuseStaleBuild();
  const root = await mkdtemp(join(tmpdir(), "keyworthy-docs-"));
  const folder = join(root, name);
  const bin = join(root, "node_modules", ".bin");
  await mkdir(folder);
  await mkdir(bin, { recursive: true });
  // A wrapper, not a link: tsc does not make what it writes executable.
  await writeFile(join(bin, "keyworthy"), `#!/bin/sh\nexec "${process.execPath}" "${join(build, "cli.js")}" "$@"\n`);
  await chmod(join(bin, "keyworthy"), 0o755);
  return {
    folder,
    run: (command, environment = {}) => runIn(folder, command, {
      // Nothing of npm's own settings: this runs within `npm test`. And nothing may be fetched.
      PATH: `${bin}:${dirname(process.execPath)}:${process.env["PATH"] ?? ""}`,
      HOME: root,
      npm_config_offline: "true",
      npm_config_update_notifier: "false",
      ...environment,
    }),
    write: async (files) => {
      for (const [path, content] of files instanceof Map ? (files as ReadonlyMap<string, string | Uint8Array>) : Object.entries(files as Readonly<Record<string, string | Uint8Array>>)) {
        await mkdir(dirname(join(folder, path)), { recursive: true });
        await writeFile(join(folder, path), content);
      }
    },
    list: async (path) => (await readdir(join(folder, path))).toSorted(),
    remove: () => rm(root, { recursive: true, force: true }),
  };
}

/**
 * Runs every command line of a page that is not in `onlyNamed`, in the page's order, and gives how each ended.
 * `before` holds what a reader does in between, by the command that comes next.
 */
export async function runPage(page: string, place: Place, before: Readonly<Record<string, () => Promise<void>>> = {}): Promise<Map<string, Ran>> {
  const lines = commandsOf(pageText(page)).filter(({ form, text }) => form === "line" && !onlyNamed.has(text));
  const strays = Object.keys(before).filter((command) => !lines.some(({ text }) => text === command));
  if (strays.length > 0) throw new Error(`${page} does not give the command ${strays.join(", nor ")}`);
  const ran = new Map<string, Ran>();
  for (const { text } of lines) {
    await before[text]?.();
    ran.set(text, await place.run(text));
  }
  return ran;
}

/** The commands with their exit status, as a test can list them; what a command complained of stands beside it. */
export const outcomes = (ran: ReadonlyMap<string, Ran>): string[] =>
  [...ran].map(([command, { status, told }]) => `${command}: ${status}${withoutProgress(told) === "" ? "" : ` ${withoutProgress(told)}`}`);

/** What was told besides how far the work has come, which a slow machine is told of every ten seconds. */
export const withoutProgress = (told: string): string => told.replace(/^(?:[\d,]+ rows read; working on them|[a-z][a-z ]+)\n/gm, "");

/** A command that asks is run at a terminal, where somebody stops it at its first question. */
async function runAtTerminal(folder: string, command: string, env: Record<string, string>): Promise<Ran> {
  const run = atTerminal(command, folder, env);
  // Where there is nothing to ask it ends by itself.
  await run.when(["Stop here", "\u2514"], keys.interrupt).catch(() => undefined);
  return { status: await run.ended, said: run.screen(), told: "" };
}

function runIn(folder: string, command: string, env: Record<string, string>): Promise<Ran> {
  if (/\bkeyworthy confirm /.test(command)) return runAtTerminal(folder, command, env);
  return new Promise((done) => {
    const child = execFile("bash", ["-c", command], { cwd: folder, env, maxBuffer: 1 << 26 }, (_, said, told) => {
      done({ status: child.exitCode ?? -1, said, told });
    });
  });
}

let looked: Promise<void> | undefined;
/** Commands must not be shown to work with a program that is no longer the source's. */
function refuseStaleBuild(): Promise<void> {
  looked ??= (async () => {
    const cli = join(build, "cli.js");
    if (!existsSync(cli)) throw new Error(`${cli} is not there: npm run build`);
    if (named !== undefined) return;
    const built = (await stat(cli)).mtimeMs;
    for (const path of await readdir("src", { recursive: true })) {
      if (/\.tsx?$/.test(path) && (await stat(join("src", path))).mtimeMs > built) throw new Error(`src/${path} is newer than ${cli}: npm run build`);
    }
  })();
  return looked;
}
