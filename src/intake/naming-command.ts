import { posix } from "node:path";
import { shellWord } from "../ground/shell-word.js";
import { steering } from "../ground/steering.js";

/** Lines looked at to see how many words they usually have. Our own choice. */
const LOOKED_AT_LINES = 200;
/** As many of them must be alike. Our own choice. */
const LEAST_ALIKE = 0.9;

/**
 * The one command that writes rows without column names under names, into another file beside; null for a file inside another one, or with a
 * name that no message shows as it is.
 * A shell runs it in the file's own folder. `cells` are those of a row.
 */
export function namingCommand(file: string, cells: readonly string[], delimiter: string): string | null {
  const name = posix.basename(file);
  if (isInside(file) || !isShowable(name)) return null;
  const names = namesOf(cells).join(delimiter === "\t" ? "\\t" : delimiter);
  const isPacked = name.endsWith(".gz");
  return thenDraft(`(printf '${names}\\n'; ${isPacked ? "gzip -dc" : "cat"} ${shellWord(name)})`, name);
}

/**
 * The one command that makes CSV of lines whose words stand between spaces, as a log's do: `2026-10-01 07:12:03 door OPEN`. Null where {@link namingCommand}
 * is, or if the lines do not begin with a date. What stands after the usual number of words becomes a note.
 */
export function wordsCommand(file: string, text: string): string | null {
  const lines = text.split(/\r\n|\n|\r/).filter((line) => line.trim() !== "").slice(0, LOOKED_AT_LINES).map((line) => line.trim().split(/\s+/));
  const counts = lines.map((words) => words.length).sort((a, b) => a - b);
  // The fewest that nearly all have: notes at the end of some lines make those longer.
  const words = counts[Math.floor((1 - LEAST_ALIKE) * counts.length)] ?? 0;
  const [first] = lines;
  const name = posix.basename(file);
  if (first === undefined || isInside(file) || !isShowable(name) || words < 3 || lines.filter((line) => isDate(line[0] ?? "")).length < LEAST_ALIKE * lines.length) return null;
  const hasClock = isClock(first[1] ?? "");
  const cells = hasClock ? [`${first[0] ?? ""}T${first[1] ?? ""}`, ...first.slice(2, words)] : first.slice(0, words);
  const from = hasClock ? 3 : 2;
  const columns = [hasClock ? '$1"T"$2' : "$1", ...Array.from({ length: words - from + 1 }, (_, at) => `$${from + at}`), "note"];
  // Tabs, as words may hold commas.
  const program = `BEGIN {OFS="\\t"; print "${[...namesOf(cells), "note"].join("\\t")}"} {note=""; for (i=${words + 1}; i<=NF; i++) note=note " " $i; print ${columns.join(", ")}}`;
  return thenDraft(name.endsWith(".gz") ? `gzip -dc ${shellWord(name)} | awk '${program}'` : `awk '${program}' ${shellWord(name)}`, name);
}

/** Whether a cell is a date, or begins with one. */
export function isDate(cell: string): boolean {
  return /^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}(?:\D|$)/.test(cell);
}

function isClock(cell: string): boolean {
  return /^\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?$/.test(cell);
}

/** Names for columns that have none, by what stands in a row: the time, the reading (the last), and what it is of. */
function namesOf(cells: readonly string[]): string[] {
  const time = Math.max(0, cells.findIndex(isDate));
  const others = cells.map((_, at) => at).filter((at) => at !== time && !(at === time + 1 && isClock(cells[at] ?? "")));
  return cells.map((_, at) => {
    if (at === time) return "time";
    if (!others.includes(at)) return "clock";
    if (at === others.at(-1)) return "reading";
    return at === others[0] ? "device" : `column ${at + 1}`;
  });
}

function thenDraft(command: string, name: string): string {
  const written = `${name.replace(/(?:\.(?:csv|tsv|txt|log|dat))?(?:\.gz)?$/i, "")}-named.csv`;
  // With -C a shell writes over no file that is there; within brackets, so that it only holds here.
  return `run this where the file is: (set -C; ${command} > ${shellWord(written)}) and draft from what it writes`;
}

/** In an archive, a spreadsheet or a database no command reaches it. */
function isInside(file: string): boolean {
  return /\.(?:zip|xlsx|xlsm|db|sqlite3?)\//i.test(file);
}

/** A name whose characters are shown as others in a message cannot stand in a command that is to be copied from it. */
function isShowable(name: string): boolean {
  return name.search(steering) < 0;
}
