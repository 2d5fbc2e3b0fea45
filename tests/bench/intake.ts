/**
 * `npm run bench`: a seeded month of 40 bays in 40 files, of 10 and of 20 million rows. The whole audit, report and all, is
 * held against a bare pass of csv-parse over the same files, in time and in memory; and against DuckDB in what it finds.
 * The ledger is checked against the bare pass's count of rows. A number after the script's name sets the smaller size.
 * Figures are honest only on a quiet machine; the time of all cores is printed beside, which a busy one spoils less.
 */
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { availableParallelism, tmpdir } from "node:os";
import { join } from "node:path";
import { findingsSchema } from "../../src/result/findings.js";
import { loadSite } from "../../src/site/load.js";
import { duckdbFigures, type Figures } from "../published/duckdb-figures.js";
import { ourFigures } from "../published/our-figures.js";
import { fleetWords, writeFleet } from "./fleet.js";
import { measuredRun, type Cost } from "./measured-run.js";

const BAYS = 40;
const SEED = 20261001;
const MOST_RATIO = 1.2;
const MOST_MEGABYTES = 400;
const MOST_GROWTH = 2.2;
const MOST_OF_DUCKDB = 2;

const say = (text: string): void => void process.stdout.write(`${text}\n`);
const number = (value: number, digits = 1): string => value.toLocaleString("en", { minimumFractionDigits: digits, maximumFractionDigits: digits });
const bar = (isMet: boolean): string => (isMet ? "met" : "NOT MET");
const line = (name: string, { seconds, cpuSeconds, peakMegabytes }: Cost, rows: number): string =>
  `  ${name.padEnd(24)} ${number(seconds).padStart(7)} s  ${number(cpuSeconds).padStart(7)} s of processor  ${number(peakMegabytes, 0).padStart(5)} MB  ${number(rows / seconds / 1e6, 2)} million rows a second`;

const smaller = Number(process.argv[2] ?? 10_000_000);
const folder = await mkdtemp(join(tmpdir(), "keyworthy-bench-"));
try {
  say(`intake: a month of ${BAYS} bays in ${BAYS} files, seed ${SEED}, ${availableParallelism()} cores`);
  const small = await measure(smaller);
  const large = await measure(smaller * 2);
  const growth = large.seconds / small.seconds;
  say(`  twice the rows: ${number(growth, 2)} times the time of the audit, at most ${MOST_GROWTH}: ${bar(growth <= MOST_GROWTH)}`);
} finally {
  await rm(folder, { recursive: true, force: true });
}

async function measure(rows: number): Promise<Cost> {
  const place = join(folder, String(rows));
  const siteFile = await writeFleet(place, BAYS, rows, SEED);
  const exports = (await readdir(join(place, "exports"))).sort().map((name) => join(place, "exports", name));
  const bare = await measuredRun("bare-pass.js", exports);
  const out = join(place, "report");
  const audit = await measuredRun("../../../cli.js", ["audit", siteFile, "--out", out, "--quiet"], [0, 3]);
  const findings = findingsSchema.parse(JSON.parse(await readFile(join(out, "findings.json"), "utf8")));
  const read = findings.ledger.reduce((sum, row) => sum + row.read, 0);
  // The bare pass counts headers too.
  const counted = Number.parseInt(bare.said, 10) - exports.length;
  if (read !== counted) throw new Error(`the ledger has ${read} rows, the bare pass ${counted}`);

  say(`${rows.toLocaleString("en")} rows (${read.toLocaleString("en")} with repeats and dirt)`);
  say(line("bare csv-parse pass", bare, read));
  say(line("whole audit", audit, read));
  const ratio = audit.seconds / bare.seconds;
  say(`  audit / bare pass: ${number(ratio, 2)} of the time, at most ${MOST_RATIO}: ${bar(ratio <= MOST_RATIO)}; ${number(audit.cpuSeconds / bare.cpuSeconds, 2)} of the processor time`);
  say(`  peak memory: at most ${MOST_MEGABYTES} MB: ${bar(audit.peakMegabytes <= MOST_MEGABYTES)}`);
  await compare(place, siteFile);
  await rm(join(place, "exports"), { recursive: true });
  return audit;
}

/** The same figures of all signals by the audit's own steps and in SQL, and how long each took from the files on. */
async function compare(place: string, siteFile: string): Promise<void> {
  const site = await loadSite(siteFile);
  const begun = performance.now();
  const { bays: ours, period } = await ourFigures(site);
  const between = performance.now();
  const theirs = await duckdbFigures({ ...fleetWords, files: join(place, "exports", "*.csv"), expectMs: site.signals[0]!.expectMs!, ...period });
  const ended = performance.now();
  const wrong = ours.find((one, i) => JSON.stringify(one) !== JSON.stringify(theirs[i]));
  if (wrong !== undefined || theirs.length !== ours.length) throw new Error(`DuckDB disagrees:\n${JSON.stringify(wrong)}\n${JSON.stringify(theirs.find(({ bay }) => bay === wrong?.bay))}`);
  const [own, other] = [(between - begun) / 1000, (ended - between) / 1000];
  const ratio = own / other;
  const sum = (of: (one: Figures) => number): number => ours.reduce((all, one) => all + of(one), 0);
  say(`  DuckDB finds the same to the millisecond for all ${site.signals.length} signals: pairs of meters together ${number(sum(({ together }) => together[0]! + together[4]!) / 3_600_000, 3)} h, ${sum(({ firings }) => firings.length)} firings`);
  say(`  reading, states, agreement and firings: ${number(own)} s, DuckDB ${number(other)} s: ${number(ratio, 2)} times as long, at most ${MOST_OF_DUCKDB}: ${bar(ratio <= MOST_OF_DUCKDB)}`);
}
