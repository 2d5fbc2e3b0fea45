import { InputError, type ProblemParts } from "../ground/problem.js";
import type { Site } from "../site/site.js";
import { plainWords, stateWords } from "../site/state-words.js";
import { closestName } from "../site/closest-name.js";
import { fileChunks, findFiles } from "./files.js";
import { readHeader } from "./header.js";
import { emptyIsoStamp, mayFollowLeapSecond, readIsoStamp } from "./iso-stamp.js";
import { localInstant } from "./local-instant.js";
import { causeProblem, isTest, sortedTests, TEST_SUBJECT, type ProvokedTest } from "./provoked-tests.js";
import type { DiaryEntry } from "./readings.js";
import { localText } from "./period.js";
import { makeRowReader } from "./rows.js";
import { lookUp } from "../ground/look-up.js";
import { saidOnce, TAKEN_BACK, withoutTakenBack, writtenTwice, type SubjectTime, type TakenBack } from "./diary-corrections.js";

/** The columns of a diary file; others may stand beside them. */
export const diaryColumns = ["subject", "state", "from", "to"] as const;
type DiaryColumn = (typeof diaryColumns)[number];

/** What the diary files say: what was certain, and apart from it the tests that somebody made. */
export interface Diary {
  /** By `from`, then subject. Not among them: what was taken back, and what another entry says of a longer time. */
  readonly entries: readonly DiaryEntry[];
  /** Rows with a subject and times and no state: somebody was asked and did not know. In the order of the files. */
  readonly unknown: readonly SubjectTime[];
  /** Where two rows or more say the same of a subject: somebody was asked again and kept to it. By subject, then time. */
  readonly twice: readonly SubjectTime[];
  /** By `from`, then cause. They may overlap; each stands here once. */
  readonly tests: readonly ProvokedTest[];
}

/**
 * Reads the site's diary files: what a person wrote down as certain. A row without a state says nothing of what was so: the
 * person does not know, or has not filled it in. The state `taken back` cancels other rows: see {@link withoutTakenBack}. Times are ISO 8601; without an offset they are local times of the site's zone, which must occur exactly
 * once: we do not guess in a diary. A row with the subject `test` notes a provoked test of the shared cause in its state
 * column, unless a subject of the site is called `test`.
 * Throws `InputError` with every problem of every file: a subject, state word or cause the site does not know, times that do
 * not read or do not follow one another, entries that contradict one another, and what may be wrong with the file.
 */
export async function readDiary(site: Site): Promise<Diary> {
  const problems: ProblemParts[] = [];
  const entries: DiaryEntry[] = [];
  const takenBack: TakenBack[] = [];
  const unknown: SubjectTime[] = [];
  const tests: ProvokedTest[] = [];
  for (const file of await findFiles(site.diary, site.folder, "the diary", problems)) {
    const reader = makeDiaryReader(site, file.name, { entries, tests, takenBack, unknown }, problems);
    try {
      for await (const chunk of fileChunks(file)) reader.push(chunk);
      reader.end();
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      problems.push(...error.problems);
    }
  }
  const kept = withoutTakenBack(entries, takenBack);
  problems.push(...contradictions(kept, site));
  if (problems.length > 0) throw new InputError(problems);
  return { entries: saidOnce(kept), unknown, twice: writtenTwice(kept), tests: sortedTests(tests) };
}

/** What the rows of the files are sorted into. */
interface DiaryRows {
  readonly entries: DiaryEntry[];
  readonly takenBack: TakenBack[];
  readonly unknown: SubjectTime[];
  readonly tests: ProvokedTest[];
}

function makeDiaryReader(site: Site, file: string, into: DiaryRows, problems: ProblemParts[]): { push(chunk: Uint8Array): void; end(): void } {
  const delimiter = ",";
  let header: readonly string[] | null = null;
  let at: ReadonlyMap<string, number> = new Map();
  const rows = makeRowReader(delimiter, {
    row(cells, line) {
      if (header === null) {
        const reading = readHeader(cells, diaryColumns, { file, line, delimiter }, (cell) => readIsoStamp(cell, emptyIsoStamp()));
        if (reading.at === null) throw new InputError([reading.problem]);
        header = cells;
        at = reading.at;
      } else if (cells.length !== header.length) {
        problems.push({ code: "diary-row", what: "The diary row has the wrong number of columns", file, line, expected: `${header.length}, as in the header`, found: `${cells.length}` });
      } else {
        // eslint-disable-next-line @typescript-eslint/no-non-null-assertion -- the row is as long as the header
        const cellOf = (column: DiaryColumn): string => cells[lookUp(at, column)]!.trim();
        const state = cellOf("state");
        const [subject, from, to] = [cellOf("subject"), cellOf("from"), cellOf("to")];
        if (state === "") {
          const time = isTest(site, subject) ? null : diaryTime(site, { subject, from, to }, file, line, []);
          if (time !== null) into.unknown.push(time);
          return;
        }
        if (isTest(site, subject)) {
          const test = provokedTest(site, { cause: state, from, to }, file, line, problems);
          if (test !== null) into.tests.push(test);
          return;
        }
        if (state.toLowerCase() === TAKEN_BACK) {
          const time = diaryTime(site, { subject, from, to }, file, line, problems);
          if (time !== null) into.takenBack.push({ ...time, file, line });
          return;
        }
        const entry = diaryEntry(site, { subject, state, from, to }, file, line, problems);
        if (entry !== null) into.entries.push(entry);
      }
    },
    badRow(reason, detail, _raw, line) {
      problems.push({ code: "diary-row", what: `The diary row is not readable: ${reason}`, file, line, found: detail });
    },
  });
  return {
    push: rows.push,
    end() {
      rows.end();
      if (header === null) throw new InputError([{ code: "file-empty", what: "The diary file is empty", file, expected: `a header row: ${diaryColumns.join(",")}`, found: "nothing" }]);
    },
  };
}

type WrittenTime = Readonly<Record<"subject" | "from" | "to", string>>;

function diaryEntry(site: Site, row: WrittenTime & { readonly state: string }, file: string, line: number, problems: ProblemParts[]): DiaryEntry | null {
  const subject = site.subjects.find(({ id }) => id === row.subject);
  const words = subject === undefined ? null : stateWords[subject.class];
  const state = row.state.toLowerCase() === words?.on ? 1 : row.state.toLowerCase() === words?.off ? 0 : null;
  if (subject !== undefined && words !== null && state === null) {
    problems.push({ code: "diary-row", what: `A ${subject.class} has no such state`, file, line, expected: `"${words.on}" or "${words.off}", or nothing where it is not known, or "${TAKEN_BACK}" to cancel what other rows say`, found: `"${row.state}"` });
  }
  const time = diaryTime(site, row, file, line, problems);
  return state === null || time === null ? null : { subject: time.subject, state, from: time.from, to: time.to, file, line };
}

/** The subject and the times of a row; null, with every problem told, where they do not read. */
function diaryTime(site: Site, row: WrittenTime, file: string, line: number, problems: ProblemParts[]): SubjectTime | null {
  const ids = site.subjects.map(({ id }) => id);
  if (!ids.includes(row.subject)) {
    const meant = closestName(row.subject, [...ids, TEST_SUBJECT]);
    problems.push({ code: "diary-row", what: `The site file has no subject "${row.subject}"`, file, line, expected: `one of ${ids.join(", ")}`, found: `"${row.subject}"`, mend: meant === null ? null : `did you mean "${meant}"?` });
    return null;
  }
  const from = diaryInstant("from", row.from, site.timeZone, file, line, problems);
  const to = diaryInstant("to", row.to, site.timeZone, file, line, problems);
  if (from === null || to === null) return null;
  if (to > from) return { subject: row.subject, from, to };
  problems.push({ code: "diary-row", what: "The diary entry ends before it begins", file, line, expected: "a `to` later than `from`", found: `from ${row.from} to ${row.to}` });
  return null;
}

function provokedTest(site: Site, row: { readonly cause: string; readonly from: string; readonly to: string }, file: string, line: number, problems: ProblemParts[]): ProvokedTest | null {
  const unknown = causeProblem(site, row.cause, file, line);
  if (unknown !== null) problems.push(unknown);
  const from = diaryInstant("from", row.from, site.timeZone, file, line, problems);
  const to = diaryInstant("to", row.to, site.timeZone, file, line, problems);
  if (unknown !== null || from === null || to === null) return null;
  if (to > from) return { cause: row.cause, from, to, file, line };
  problems.push({ code: "diary-row", what: "The test ends before it begins", file, line, expected: "a `to` later than `from`", found: `from ${row.from} to ${row.to}` });
  return null;
}

function diaryInstant(column: string, text: string, zone: string, file: string, line: number, problems: ProblemParts[]): number | null {
  const stamp = emptyIsoStamp();
  const readable = readIsoStamp(text, stamp);
  const hasOffset = !Number.isNaN(stamp.offsetMs);
  const { instant, kind } = !readable ? { instant: Number.NaN, kind: "once" } : hasOffset ? { instant: stamp.wallMs - stamp.offsetMs, kind: "once" } : localInstant(stamp.wallMs, stamp.zone ?? zone);
  if (!readable || (stamp.leapSecond && !mayFollowLeapSecond(instant))) {
    problems.push({ code: "diary-row", what: `The time in "${column}" is not readable`, file, line, expected: "a time such as 2026-10-01T18:30 or 2026-10-01T18:30:00+01:00", found: `"${text}"` });
    return null;
  }
  if (kind === "once") return instant;
  const happens = kind === "skipped" ? "never occurs" : "occurs twice";
  problems.push({ code: "diary-row", what: `The local time in "${column}" ${happens} in ${zone}: the clocks changed`, file, line, expected: "a local time that occurs once, or one with an offset", found: `"${text}"`, mend: "write the offset behind it, such as +01:00" });
  return null;
}

/** Entries of one subject that overlap and say opposite things: neither is certain. */
function contradictions(entries: readonly DiaryEntry[], site: Site): ProblemParts[] {
  return site.subjects.flatMap(({ id }) => {
    const own = entries.filter(({ subject }) => subject === id).sort((a, b) => a.from - b.from);
    /** The entry of each state that reaches furthest so far. */
    const furthest: [DiaryEntry | null, DiaryEntry | null] = [null, null];
    return own.flatMap((entry) => {
      const other = furthest[entry.state === 0 ? 1 : 0];
      const same = furthest[entry.state];
      if (same === null || entry.to > same.to) furthest[entry.state] = entry;
      if (other === null || other.to <= entry.from) return [];
      return [{
        code: "diary-row" as const, what: `Two diary entries contradict each other about "${id}": this one says ${saidText(entry, site)}`, file: entry.file, line: entry.line,
        expected: "one state at a time", found: `${other.file}:${other.line}, which says ${saidText(other, site)}`, mend: "correct the one that is wrong, or empty its state",
      }];
    });
  });
}

/** What an entry says, in the words of its subject and in local time. */
function saidText({ subject, state, from, to }: DiaryEntry, { subjects, timeZone }: Site): string {
  const subjectClass = subjects.find(({ id }) => id === subject)?.class;
  const words = subjectClass === undefined ? plainWords : stateWords[subjectClass];
  return `${state === 1 ? words.on : words.off} from ${localText(from, timeZone)} to ${localText(to, timeZone)}`;
}
