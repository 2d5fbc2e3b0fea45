import { InputError, problem, problemText, type Problem, type ProblemParts } from "../ground/problem.js";
import type { ExportSample } from "../intake/sample-exports.js";
import { parseSite } from "../site/parse.js";
import { cellAt } from "./cell.js";
import { findClocks, type ClocksFound, type SourceClock } from "./clocks.js";
import type { FoundSignal, FoundSource, LeftOut, Placing } from "./found.js";
import { findHome, type HomeFound } from "./home.js";
import { freeName } from "./names.js";
import { leaveOutQuestions } from "./leave-out.js";
import { placeSignals } from "./placing.js";
import { plainQuestion, type Answers, type DraftQuestion } from "./questions.js";
import type { Places } from "./resting-place.js";
import { shown } from "./shown.js";
import { sharedCauses, type CauseFound } from "./shared-causes.js";
import { findSignals, type Asks, type UnusedName } from "./signals.js";
import { findSources } from "./sources.js";
import { twinCauses } from "./twins.js";
import { writeHome } from "./write-home.js";
import { noteFirst, ruleQuestions, writeRules } from "./write-rules.js";
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
  /** The same as questions that can be answered, and what else is worth asking; in the order in which to ask. */
  readonly questions: readonly DraftQuestion[];
  /** Files that were not used, and why. */
  readonly setAside: readonly Problem[];
  /** Why the file does not load before the open places are filled in; empty when it loads as it is. */
  readonly problems: readonly string[];
  /** The signals as placed, for showing. */
  readonly placings: readonly Placing[];
  /** Signals that are not in the file. */
  readonly leftOut: readonly LeftOut[];
  /** What is to be said before all else; null: nothing. */
  readonly note: string | null;
}

/**
 * Looks at samples of exports and writes a first site file.
 *
 *   samples -> 1 sources (time, layout) -> 2 clocks -> 3 signals (words, bands, intervals, home)
 *           -> 4 subjects -> 5 shared causes -> 6 the file, loaded once to see whether it does
 *
 * Nothing is invented: what the exports do not show is left open and marked, and rules are only written as comments.
 * `names` are those of the site and of the file, for messages. `answers` are the person's so far; `unread`: why other files could not even
 * be read. What cannot be used is set aside with its reason. Throws `InputError` when nothing is left, or no signal is found; nothing else,
 * whatever the bytes.
 */
export function draftSite(
  samples: readonly ExportSample[],
  names: { readonly site: string; readonly file: string },
  answers: Answers = new Map(),
  unread: readonly Problem[] = [],
): SiteDraft {
  // 1. Sources.
  const problems: ProblemParts[] = [];
  const sources = findSources(samples, new Set(), problems, answers);
  const setAside = [...unread, ...problems.map(problem)];
  if (sources.length === 0) throw new InputError(setAside);

  // 2. Clocks.
  const clocks = findClocks(sources, answers);

  // 3. Signals.
  const taken = new Set<string>();
  const asks = { answers, open: [] as DraftQuestion[] };
  const { found, unused, places } = signalsOf(sources, clocks, taken, asks);
  if (found.length === 0) throw new InputError([...setAside, ...sources.map((source) => noSignal(source, unused.get(source) ?? []))]);
  const { signals, home } = findHome(found, places);

  // 4. What they watch.
  const { placings, leftOut } = placeSignals(signals, taken, answers);

  // 5. What they share.
  const used = placings.map(({ signal }) => signal);
  const causes = causesOf(used, placings, taken);

  // 6. The file.
  const lines = makeYamlLines();
  writeBeginning(lines, { site: names.site, clocks, placings, home, answers });
  writeNotUsed(lines, setAside, sources.filter((source) => !used.some((signal) => signal.source === source)));
  const told = sources.filter((source) => used.some((signal) => signal.source === source));
  writeSources(lines, told, { renamed: asks.open, signals: used, leftOut, clocks, unused });
  writeSignals(lines, placings, causes, answers);
  writeRules(lines, placings, answers);
  const offers = { first: leaveOutQuestions(leftOut, answers), last: ruleQuestions(placings, answers) };
  return { ...loadedOnce(lines, names.file, placings, offers), findings: inferences(told, clocks, placings), setAside, placings, leftOut };
}

/** Files that nothing is taken from, and why. */
function writeNotUsed(lines: YamlLines, setAside: readonly Problem[], idle: readonly FoundSource[]): void {
  for (const one of setAside) lines.note(0, `set aside: ${problemText(one)}`);
  for (const { tables } of idle) lines.note(0, `not used, as no signal was found in it: ${tables.map(({ name }) => name).join(", ")}`);
  if (setAside.length + idle.length > 0) lines.add("");
}

/** The signals of all sources, why columns and channels are none, and the places of position signals. */
function signalsOf(sources: readonly FoundSource[], clocks: ClocksFound, taken: Set<string>, asks: Asks) {
  const unused = new Map<FoundSource, UnusedName[]>();
  const places = new Map<string, Places>();
  const found = sources.flatMap((source) => {
    const reasons: UnusedName[] = [];
    unused.set(source, reasons);
    const zone = clocks.sources.get(source)?.zone ?? clocks.zone ?? "UTC";
    return findSignals(source, zone, taken, reasons, places, asks);
  });
  return { found, unused, places };
}

function noSignal(source: FoundSource, reasons: readonly UnusedName[]): ProblemParts {
  return {
    code: "column-missing",
    what: "No signal was found",
    file: source.tables[0].name,
    found: whyNone(source, reasons.map(({ says }) => says)),
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

interface Beginning {
  readonly site: string;
  readonly clocks: ClocksFound;
  readonly placings: readonly Placing[];
  readonly home: HomeFound | null;
  readonly answers: Answers;
}

function writeBeginning(lines: YamlLines, { site, clocks, placings, home, answers }: Beginning): void {
  lines.add(`site: ${scalar(site)}`);
  writeTimeZone(lines, clocks);
  writeHome(lines, placings, home, answers);
  lines.add("");
}

/** What to ask besides what is open: before that, and after it. */
interface Offers {
  readonly first: readonly DraftQuestion[];
  readonly last: readonly DraftQuestion[];
}

/** The draft's text and questions, with what keeps its file from loading. */
function loadedOnce(lines: YamlLines, file: string, placings: readonly Placing[], { first, last }: Offers) {
  const body = lines.text();
  const problems = loadingProblems(body, file);
  const asked = lines.open();
  // Nobody is asked about what fails: the failures themselves are then what is open.
  const open = problems.length > 0 && asked.length === 0 ? problems.map((one) => plainQuestion(`the file does not load: ${one}`, "blocks")) : asked;
  const none = noteFirst(placings);
  return {
    yaml: `${head(open, problems, none)}${body}`,
    open: open.map(({ text }) => text),
    questions: [...first, ...open, ...last],
    problems,
    note: none,
  };
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

function head(open: readonly DraftQuestion[], failing: readonly string[], none: string | null): string {
  return [
    "# A first site file, written by keyworthy draft from what the exports show. It is yours to change.",
    ...(none === null ? [] : [`# Note first: ${none}.`]),
    `# ${leftOpenText(open, failing.length > 0)}`,
    '# Guesses worth a look are marked "check:". Keys: docs/site-file.md.',
    "",
  ].join("\n");
}

/** How much is open, and how much of it keeps the file from loading. */
export function leftOpenText(open: readonly DraftQuestion[], isFailing: boolean): string {
  if (open.length === 0) return "Nothing is left open.";
  const things = open.length === 1 ? "1 thing is" : `${open.length} things are`;
  const blocking = open.filter(({ weight }) => weight === "blocks").length;
  const rest = "The file loads, with the likeliest answer in their places.";
  if (!isFailing) return `${things} left open: search for FILL IN. ${rest}`;
  if (blocking === open.length || blocking === 0) {
    return `${things} left open: search for FILL IN. The file does not load before ${open.length === 1 ? "it is" : "they are"} filled in.`;
  }
  const those = blocking === 1 ? "1 of them is" : `${blocking} of them are`;
  return `${things} left open: search for FILL IN. The file does not load before ${those} filled in; in the others' places stands the likeliest answer.`;
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

function inferencesOf({ id, header, timeColumn, written, counts, timeEvidence }: FoundSource, clock: SourceClock | undefined): Inference[] {
  const time = { about: id, says: `time in ${cellAt(header, timeColumn)}, written ${counts?.written ?? written}`, evidence: timeEvidence };
  if (clock === undefined) return [time];
  return [time, { about: id, says: clock.zone ?? "the site's time zone", evidence: clock.evidence }];
}
