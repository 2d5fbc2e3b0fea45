/**
 * How well do the tests notice a change of the code? Stryker changes the code of a folder in one place at a time, in a
 * copy of the project, and runs the tests that reach the place. The score is the share of changes that a test notices.
 * Run: npm run mutate [-- FOLDER… [--sample SIZE] [--seed N] [--only GLOB]], by default on timeline/ and statistics/ whole.
 * A SIZE of 0 means all mutants; GLOB names files of the folder. docs/mutation.md has the results.
 */
import { mkdir, writeFile } from "node:fs/promises";
import { relative } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { Stryker } from "@stryker-mutator/core";
import type { MutantResult, PartialStrykerOptions } from "@stryker-mutator/api/core";
import { shareEstimate } from "../../src/statistics/share.js";
import { mutatedFolders } from "./folders.js";
import type { SampleOptions } from "./sample-checker.js";

const CONFIDENCE = 0.95;
/** Where the lists of survivors go; nothing in it is committed. */
const OUT = "reports/mutation";

const say = (text: string): void => void process.stdout.write(`${text}\n`);

const { values, positionals } = parseArgs({ allowPositionals: true, options: { seed: { type: "string", default: "1" }, sample: { type: "string" }, only: { type: "string", default: "**/*.ts" } } });
const seed = wholeNumber(values.seed);
const asked = positionals.length === 0 ? ["timeline", "statistics"] : positionals;
const unknown = asked.find((name) => !(name in mutatedFolders));
if (unknown !== undefined) throw new RangeError(`Expected one of ${Object.keys(mutatedFolders).join(", ")}, got ${unknown}.`);

/** @throws RangeError when the text is not a whole number of 0 or more. */
function wholeNumber(text: string): number {
  if (!/^\d+$/.test(text)) throw new RangeError(`Expected a whole number, got ${text}.`);
  return Number(text);
}

await mkdir(OUT, { recursive: true });
for (const name of asked) {
  const folder = mutatedFolders[name]!;
  await mutate(name, folder.tests, values.sample === undefined ? folder.sampleSize : wholeNumber(values.sample));
}

async function mutate(name: string, tests: readonly string[], sampleSize: number): Promise<void> {
  process.env["MUTATE_TESTS"] = tests.join(",");
  const startedMs = performance.now();
  const sampling: PartialStrykerOptions & Partial<SampleOptions> =
    sampleSize === 0 ? {} : { checkers: ["sample"], sample: { size: sampleSize, seed } };
  const options: PartialStrykerOptions = {
    mutate: [`src/${name}/${values.only}`],
    testRunner: "vitest",
    plugins: ["@stryker-mutator/vitest-runner", fileURLToPath(new URL("sample-checker.js", import.meta.url))],
    coverageAnalysis: "perTest",
    concurrency: 2,
    // On a busy machine a slow test must not pass for one that a mutant hangs. Endless loops are noticed by counting anyway.
    dryRunTimeoutMinutes: 30,
    timeoutMS: 30_000,
    timeoutFactor: 4,
    reporters: ["progress-append-only"],
    ignorePatterns: [".build", "reports", "coverage"],
    tempDirName: `${OUT}/sandbox`,
    allowConsoleColors: false,
    ...sampling,
    ...{ vitest: { configFile: "vitest.mutate.config.ts", related: true } },
  };
  const all = await new Stryker(options).runMutationTest();
  const tried = all.filter(({ status }) => status !== "CompileError" && status !== "RuntimeError");
  const survivors = tried.filter(({ status }) => status !== "Killed" && status !== "Timeout").map(survivorLine).sort();
  const noticed = tried.length - survivors.length;
  const hung = tried.filter(({ status }) => status === "Timeout").length;
  const { value, low, high } = shareEstimate(noticed, tried.length, CONFIDENCE);
  const percent = (share: number | null): string => (share === null ? "-" : (share * 100).toFixed(1));
  const drawn = sampleSize === 0 ? `all ${all.length} mutants` : `${tried.length} of ${all.length} mutants, drawn with seed ${seed}`;
  const interval = sampleSize === 0 ? "" : ` (95 % interval ${percent(low)} to ${percent(high)} %)`;
  const minutes = ((performance.now() - startedMs) / 60_000).toFixed(1);
  const score = `${name}: ${drawn}; ${noticed} noticed (${hung} of them hung), ${percent(value)} %${interval}; ${minutes} min`;
  await writeFile(`${OUT}/${name}.txt`, [score, ...survivors, ""].join("\n"));
  say(score);
  say(`Survivors: ${OUT}/${name}.txt`);
}

function survivorLine({ fileName, location, mutatorName, replacement, status }: MutantResult): string {
  const { start, end } = location;
  const place = `${relative("", fileName)}:${start.line}:${start.column}-${end.line}:${end.column}`;
  return `${place} ${mutatorName}${status === "Survived" ? "" : ` (${status})`}: ${replacement.replace(/\s+/g, " ")}`;
}
