import { difference, intersection, union, type Interval } from "../ground/intervals.js";
import type { DiaryEntry } from "./readings.js";

/** What stands in a diary's state column where a row cancels others. */
export const TAKEN_BACK = "taken back";

/** A time of one subject. */
export interface SubjectTime extends Interval {
  readonly subject: string;
}

/** A row that cancels what other rows say of the subject on `[from, to)`. */
export interface TakenBack extends SubjectTime {
  readonly file: string;
  readonly line: number;
}

/**
 * The entries without what was taken back: of the subject and the time that such a row names, whatever stands above it
 * in its own file and whatever other files say. What is written below it in the same file counts: so a later answer may
 * say anew what was so. An entry of which only a part is taken back is cut.
 */
export function withoutTakenBack(entries: readonly DiaryEntry[], takenBack: readonly TakenBack[]): DiaryEntry[] {
  return entries.flatMap((entry) => {
    const holes = takenBack.filter((one) => one.subject === entry.subject && (one.file !== entry.file || one.line > entry.line));
    return holes.length === 0 ? [entry] : difference([entry], holes).map((rest) => ({ ...entry, ...rest }));
  });
}

/** The entries by `from`, then subject, without those that lie within another one that says the same. */
export function saidOnce(entries: readonly DiaryEntry[]): DiaryEntry[] {
  const reached = new Map<string, number>();
  const inOrder = [...entries].sort((a, b) => a.from - b.from || (a.subject < b.subject ? -1 : a.subject > b.subject ? 1 : b.to - a.to));
  return inOrder.filter(({ subject, state, to }) => {
    const key = `${state} ${subject}`;
    if (to <= (reached.get(key) ?? -Infinity)) return false;
    reached.set(key, to);
    return true;
  });
}

/** The time in which two entries or more say the same of a subject, by subject, then time. */
export function writtenTwice(entries: readonly DiaryEntry[]): SubjectTime[] {
  const subjects = [...new Set(entries.map(({ subject }) => subject))].sort();
  return subjects.flatMap((subject) => ([0, 1] as const).flatMap((state) => twiceCovered(entries.filter((one) => one.subject === subject && one.state === state)).map((time) => ({ subject, ...time }))));
}

/** The time that at least two of the intervals cover. */
function twiceCovered(intervals: readonly Interval[]): Interval[] {
  let once: Interval[] = [];
  const twice: Interval[] = [];
  for (const { from, to } of [...intervals].sort((a, b) => a.from - b.from)) {
    twice.push(...intersection(once, [{ from, to }]));
    once = union([...once.filter((one) => one.to > from), { from, to }]);
  }
  return union(twice);
}
