import { InputError, problemText, type ProblemParts } from "../ground/problem.js";
import type { ExportSample } from "../intake/sample-exports.js";
import { parseSite } from "../site/parse.js";
import { cellAt } from "./cell.js";
import { findClocks, type ClocksFound, type SourceClock } from "./clocks.js";
import type { FoundSignal, FoundSource, Placing } from "./found.js";
import { findHome, type HomeFound } from "./home.js";
import { freeName } from "./names.js";
import { placeSignals } from "./placing.js";
import type { Places } from "./resting-place.js";
import { shown } from "./shown.js";
import { sharedCauses, type CauseFound } from "./shared-causes.js";
import { findSignals } from "./signals.js";
import { findSources } from "./sources.js";
import { twinCauses } from "./twins.js";
import { writeHome } from "./write-home.js";
import { writeRules } from "./write-rules.js";
import { writeSignals } from "./write-signals.js";
import { writeSources } from "./write-sources.js";
import { FILL_IN, makeYamlLines, scalar, type YamlLines } from "./yaml-lines.js";

/** One thing that was inferred, with what speaks for it. */
export interface Inference {
  /** What it is about: a source, a signal, a subject. */
  readonly about: string;
  readonly says: string;
  readonly evidence: string;
}

/** A first site file, what was inferred for it and from what, and what the person must say. */
export interface SiteDraft {
  readonly yaml: string;
  readonly findings: readonly Inference[];
  /** One question for everything that is not known; each is marked in the file by `# FILL IN:`. */
  readonly open: readonly string[];
  /** Why the file does not load before the open places are filled in; empty when it loads as it is. */
  readonly problems: readonly string[];
  /** The signals as placed, for showing. */
  readonly placings: readonly Placing[];
}

/**
 * Looks at samples of exports and writes a first site file.
 *
 *   samples -> 1 sources (time, layout) -> 2 clocks -> 3 signals (words, bands, intervals, home)
 *           -> 4 subjects -> 5 shared causes -> 6 the file, loaded once to see whether it does
 *
 * Nothing is invented: what the exports do not show is left open and marked, and rules are only written as comments.
 * `names` are those of the site and of the file, for messages. Throws `InputError` with the problems of every sample
 * that cannot be read, or when no signal is found; nothing else, whatever the bytes.
 */
export function draftSite(samples: readonly ExportSample[], names: { readonly site: string; readonly file: string }): SiteDraft {
  // 1. Sources.
  const problems: ProblemParts[] = [];
  const sources = findSources(samples, new Set(), problems);
  if (problems.length > 0) throw new InputError(problems);

  // 2. Clocks.
  const clocks = findClocks(sources);

  // 3. Signals.
  const taken = new Set<string>();
  const { found, unused, places } = signalsOf(sources, clocks, taken);
  if (found.length === 0) throw new InputError(sources.map((source) => noSignal(source, unused.get(source) ?? [])));
  const { signals, home } = findHome(found, places);

  // 4. What they watch.
  const placings = placeSignals(signals, taken);

  // 5. What they share.
  const causes = causesOf(signals, placings, taken);

  // 6. The file.
  const lines = makeYamlLines();
  const used = sources.filter((source) => signals.some((signal) => signal.source === source));
  const idle = sources.filter((source) => !used.includes(source));
  writeBeginning(lines, names.site, clocks, placings, home);
  for (const { tables } of idle) lines.note(0, `not used, as no signal was found in it: ${tables.map(({ name }) => name).join(", ")}`);
  writeSources(lines, used, signals, clocks, unused);
  writeSignals(lines, placings, causes);
  writeRules(lines, placings);
  return loadedOnce(lines, names.file, inferences(used, clocks, placings), placings);
}

/** The signals of all sources, why columns and channels are none, and the places of position signals. */
function signalsOf(sources: readonly FoundSource[], clocks: ClocksFound, taken: Set<string>) {
  const unused = new Map<FoundSource, string[]>();
  const places = new Map<string, Places>();
  const found = sources.flatMap((source) => {
    const reasons: string[] = [];
    unused.set(source, reasons);
    const zone = clocks.sources.get(source)?.zone ?? clocks.zone ?? "UTC";
    return findSignals(source, zone, taken, reasons, places);
  });
  return { found, unused, places };
}

function noSignal(source: FoundSource, reasons: readonly string[]): ProblemParts {
  return {
    code: "column-missing",
    what: "No signal was found",
    file: source.tables[0].name,
    found: whyNone(source, reasons),
    expected: "readings that are two words (open and closed, in and out, 1 and 0), distances, or latitude and longitude",
    mend: "export readings that can be read, or write the site file by hand: docs/site-file.md",
  };
}

/** Causes shown by restarts and by twins, each with a name that is free. */
function causesOf(signals: readonly FoundSignal[], placings: readonly Placing[], taken: Set<string>): CauseFound[] {
  const restarted = sharedCauses(signals);
  const twins = twinCauses(placings, restarted).map((cause, i) => ({ ...cause, name: `cause-${restarted.length + i + 1}` }));
  return [...restarted, ...twins].map((cause) => ({ ...cause, name: freeName(cause.name, taken) }));
}

function writeBeginning(lines: YamlLines, site: string, clocks: ClocksFound, placings: readonly Placing[], home: HomeFound | null): void {
  lines.add(`site: ${scalar(site)}`);
  writeTimeZone(lines, clocks);
  writeHome(lines, placings, home);
  lines.add("");
}

/** The draft with what keeps its file from loading. */
function loadedOnce(lines: YamlLines, file: string, findings: readonly Inference[], placings: readonly Placing[]): SiteDraft {
  const body = lines.text();
  const problems = loadingProblems(body, file);
  const asked = lines.open();
  // Nobody is asked about what fails: the failures themselves are then what is open.
  const open = problems.length > 0 && asked.length === 0 ? problems.map((one) => `the file does not load: ${one}`) : asked;
  return { yaml: `${head(open, problems)}${body}`, findings, open, problems, placings };
}

/** What keeps the columns of a source from being signals. */
function whyNone({ header, unused }: FoundSource, reasons: readonly string[]): string | null {
  const unnamed = unused
    .filter((name) => name === "" || header.indexOf(name) !== header.lastIndexOf(name))
    .map((name) => (name === "" ? "a column without a name" : `column ${shown(name)}: two columns are called so`));
  const all = [...new Set([...reasons, ...unnamed])];
  return all.length === 0 ? null : `${all.slice(0, 6).join("; ")}${all.length > 6 ? "; …" : ""}`;
}

function writeTimeZone(lines: YamlLines, clocks: ClocksFound): void {
  lines.note(0, clocks.evidence);
  const line = `timezone: ${scalar(clocks.zone ?? FILL_IN)}`;
  if (clocks.open === null) lines.add(line);
  else lines.ask(0, clocks.open, line);
}

function head(open: readonly string[], failing: readonly string[]): string {
  return [
    "# A first site file, written by keyworthy draft from what the exports show. It is yours to change.",
    `# ${leftOpenText(open.length, failing.length > 0)}`,
    '# Guesses worth a look are marked "check:". Keys: docs/site-file.md.',
    "",
  ].join("\n");
}

function leftOpenText(count: number, isFailing: boolean): string {
  if (count === 0) return "Nothing is left open.";
  const things = count === 1 ? "1 thing is" : `${count} things are`;
  const loads = isFailing
    ? `The file does not load before ${count === 1 ? "it is" : "they are"} filled in.`
    : "The file loads, with the likeliest answer in their places.";
  return `${things} left open: search for FILL IN. ${loads}`;
}

function loadingProblems(yaml: string, file: string): string[] {
  try {
    parseSite(yaml, file, "");
    return [];
  } catch (error) {
    if (error instanceof InputError) return error.problems.map(problemText);
    throw error;
  }
}

function inferences(sources: readonly FoundSource[], clocks: ClocksFound, placings: readonly Placing[]): Inference[] {
  return [
    { about: "site", says: clocks.zone === null ? "time zone not known" : `time zone ${clocks.zone}`, evidence: clocks.evidence },
    ...sources.flatMap((source) => inferencesOf(source, clocks.sources.get(source))),
    ...placings.map(({ signal, subject, evidence }) => ({ about: signal.id, says: `watches ${subject}`, evidence })),
  ];
}

function inferencesOf({ id, header, timeColumn, written, timeEvidence }: FoundSource, clock: SourceClock | undefined): Inference[] {
  const time = { about: id, says: `time in ${cellAt(header, timeColumn)}, written ${written}`, evidence: timeEvidence };
  if (clock === undefined) return [time];
  return [time, { about: id, says: clock.zone ?? "the site's time zone", evidence: clock.evidence }];
}
