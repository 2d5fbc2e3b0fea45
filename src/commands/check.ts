import { resolve } from "node:path";
import { hearSignals } from "../truth/signals/hear.js";
import { setAsideTally } from "../result/tables.js";
import { readDiary } from "../intake/diary.js";
import { readExports } from "../intake/read-exports.js";
import type { Readings } from "../intake/readings.js";
import { readingCount } from "../intake/unpack.js";
import { timeParts, type TimePart } from "../intake/time-parts.js";
import { apartText, localText, settlePeriod } from "../intake/period.js";
import { InputError, problemText, type Problem } from "../ground/problem.js";
import { loadSite } from "../site/load.js";
import { makeNewChannels, newsLines } from "./check/news.js";
import { makeOddRows, stripLines } from "./check/strips.js";
import { dependenceLines } from "./dependence-lines.js";
import type { Site } from "../site/site.js";
import { oneLine } from "./one-line.js";
import { makeProgress } from "./progress.js";
import type { ExitStatus, Surroundings } from "./surroundings.js";

/** How many rows set aside are shown for each file and reason; the others are counted. */
const SHOWN_ROWS = 3;

/** Reads site file, exports and diary, scores nothing, and says what is wrong in which row. */
export async function runCheck(request: { readonly siteFile: string; readonly quiet: boolean }, around: Surroundings): Promise<ExitStatus> {
  const site = await loadSite(resolve(around.folder, request.siteFile));
  const progress = makeProgress(around, request.quiet);
  const shown = new Map<string, number>();
  const samples: string[] = [];
  const odd = makeOddRows(site.timeZone);
  const fresh = makeNewChannels();
  const [exports, diary] = await Promise.allSettled([
    readExports(site, {
      onSetAside(row) {
        const { file, line, reason, detail } = row;
        // What the site file itself leaves out needs no example.
        if (reason === "channel left out") return;
        odd.add(row);
        fresh.add(row);
        const key = `${file}\n${reason}`;
        const count = (shown.get(key) ?? 0) + 1;
        shown.set(key, count);
        if (count <= SHOWN_ROWS) samples.push(problemText({ code: "site-shape", what: `${reason}: ${detail}`, file, line, column: null, expected: null, found: null, mend: null }));
      },
      onProgress: progress.onProgress,
    }),
    readDiary(site),
  ]);
  progress.clear();
  const problems = [exports, diary].flatMap((result): readonly Problem[] => {
    if (result.status === "fulfilled") return [];
    if (result.reason instanceof InputError) return result.reason.problems;
    throw result.reason;
  });
  if (problems.length > 0 || exports.status === "rejected") {
    // Show what is wrong in the readable files too, so that one run finds everything.
    if (samples.length > 0) around.say(`${samples.map((sample) => `    ${sample}`).join("\n")}\n`);
    throw new InputError(problems);
  }

  const { ledger, readings } = exports.value;
  const unreadable = ledger.reduce((sum, { unreadableCells }) => sum + unreadableCells, 0);
  const silent = [...readings.values()].filter((one) => readingCount(one) === 0).map(({ signal }) => signal);
  const main = mainPart(timeParts(readings.values()));
  const news = await newsLines(site, fresh, readings, main, ledger);
  around.say(
    [
      `${site.name}: the site file is in order.`,
      ...ledger.map((row) => `  ${row.file}: ${row.read} rows read = ${row.accepted} accepted + ${row.duplicate} duplicate + ${row.setAside} set aside`),
      ...ledger.filter(({ cutOff }) => cutOff).map(({ file }) => `  ${file} stops in the middle: what came after is missing`),
      ...setAsideTally({ ledger: ledger.map((row) => ({ ...row, reasons: [...row.reasons], first: null, last: null })) }).map(({ reason, count }) => `  set aside, ${reason}: ${count}`),
      ...(unreadable === 0 ? [] : [`  cells not readable, in rows otherwise used: ${unreadable}`]),
      ...samples.map((sample) => `    ${sample}`),
      ...extentLines(timeParts(readings.values()), site.timeZone),
      ...(request.quiet || main === null ? [] : stripLines(site, readings, main, odd, around.colour || around.tellsTerminal)),
      ...news,
      ...silent.map((signal) => `  ${signal} has no reading at all`),
      ...(isSpread(readings.values()) ? dependenceLines(site, readings, diary.status === "fulfilled" ? diary.value.entries : []) : []),
      ...noteLines(site, readings),
      "",
    ]
      .map(oneLine)
      .join("\n"),
  );
  return 0;
}

/** Whether there are readings at more than one instant. */
function isSpread(readings: Iterable<Readings>): boolean {
  return timeParts(readings).some(({ from, to }) => from < to);
}

/** When the readings begin and end. Swapped days and months, or a clock that was not set, show here first. */
function extentLines(parts: readonly TimePart[], timeZone: string): string[] {
  const main = mainPart(parts);
  if (main === null) return [];
  return [
    `  readings from ${localText(main.from, timeZone)} to ${localText(main.to, timeZone)}`,
    ...parts.filter((part) => part !== main).map((part) => `  ${apartText(part, timeZone)}: was a clock not set?`),
  ];
}

/** The part with the most readings. */
function mainPart(parts: readonly TimePart[]): TimePart | null {
  return parts.reduce<TimePart | null>((best, part) => (best === null || part.count > best.count ? part : best), null);
}

/** The notes that an audit of all readings would begin with. */
function noteLines(site: Site, readings: ReadonlyMap<string, Readings>): string[] {
  const main = mainPart(timeParts(readings.values()));
  if (main === null || main.from === main.to) return [];
  const settled = settlePeriod(site, readings, { form: "all" });
  return hearSignals(site, settled.readings, settled.period).notes.map((note) => `  note: ${note}`);
}
