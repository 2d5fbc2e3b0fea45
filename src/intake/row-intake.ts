/* eslint-disable @typescript-eslint/no-non-null-assertion -- every row is as long as the header that the columns were found in, and there is a value for each intake */
import { InputError, type ProblemParts } from "../ground/problem.js";
import type { Source } from "../site/site.js";
import { writingText } from "../site/time-pattern.js";
import { cellProblem, isValue, NO_NEWS } from "./cells.js";
import { holdsPositions, type SignalIntake } from "./columns.js";
import type { SetAsideReason, SetAsideRow } from "./readings.js";
import { findColumns, plansOf, type Plan, type RowColumns } from "./row-columns.js";
import { LONGEST_RAW_CHARACTERS, type RowSink } from "./row-sink.js";
import { addToSeries, seriesHas } from "./series.js";
import { makeStampReader, stampLook, type StampReader } from "./stamp.js";
import { emptyTally, ledgerRow, type Tally } from "./tally.js";
import type { LedgerRow } from "../result/ledger.js";

/** Stands for the text of set-aside rows of sources with positions: nobody's whereabouts outlive intake. */
const WITHHELD = "(withheld: this source holds positions)";

/** Stands for the text of a row that has just been told. */
const SAME_ROW = "(the same row)";

/** The rows of one file on their way into its source's series. Change it only through {@link sinkOf}. */
export interface RowIntake {
  readonly source: Source;
  readonly intakes: readonly SignalIntake[];
  /** The file's name, relative to the site file's folder. */
  readonly file: string;
  readonly onSetAside: (row: SetAsideRow) => void;
  readonly stamps: StampReader;
  readonly clockCorrectionMs: number;
  readonly withheld: boolean;
  readonly tally: Tally;
  /** Channels that the site file leaves out. */
  readonly leftOut: ReadonlySet<string>;
  /** Null before the header. */
  columns: RowColumns | null;
  /** Header not counted. */
  rowsRead: number;
  /** The instant of the row accepted last; -Infinity before the first. */
  lastInstant: number;
  isCutOff: boolean;
  /** The values of the row at hand and the signals they are for: no new array a row. */
  readonly values: number[];
  readonly valueIntakes: SignalIntake[];
}

/** The intake of one file, with nothing read yet. */
export function makeRowIntake(source: Source, intakes: readonly SignalIntake[], file: string, onSetAside: (row: SetAsideRow) => void): RowIntake {
  return {
    source,
    intakes,
    file,
    onSetAside,
    stamps: makeStampReader(source),
    clockCorrectionMs: Math.round(source.clockCorrectionMs),
    withheld: holdsPositions(source, intakes),
    tally: emptyTally(),
    leftOut: new Set(source.leaveOut ?? []),
    columns: null,
    rowsRead: 0,
    lastInstant: -Infinity,
    isCutOff: false,
    values: [],
    valueIntakes: [],
  };
}

/** Where the file's rows go. Throws `InputError` if the first row is no header that fits the site file. */
export function sinkOf(intake: RowIntake): RowSink {
  return {
    row: (cells, line, ended) => {
      takeRow(intake, cells, line, ended);
    },
    badRow: (reason, detail, raw, line) => {
      if (intake.columns === null) throw new InputError([headProblem(reason, detail, intake.file, line)]);
      intake.rowsRead++;
      setAside(intake, reason, detail, raw, line);
    },
    cutOff: () => (intake.isCutOff = true),
  };
}

/** The file's line of the ledger; call once, after the last row. Throws `InputError` if there was nothing to read. */
export function finishIntake({ columns, tally, source, file, rowsRead, isCutOff }: RowIntake): LedgerRow {
  if (columns !== null) return ledgerRow(tally, source.id, file, rowsRead, isCutOff);
  const mend = "export it again, or take it out of the site file";
  throw new InputError([{ code: "file-empty", what: "The file is empty", file, expected: "a header row and rows of readings", found: "nothing", mend }]);
}

function takeRow(intake: RowIntake, cells: readonly string[], line: number, ended: boolean): void {
  const { columns } = intake;
  if (columns === null) {
    intake.columns = findColumns(intake.source, intake.intakes, cells, intake.file, line);
    return;
  }
  intake.rowsRead++;
  const { length } = columns.header;
  if (!ended && (intake.isCutOff || cells.length < length)) {
    intake.isCutOff = true;
    const where = cells.length === length ? "perhaps inside the last cell" : `after ${cells.length} of ${length} columns`;
    setAside(intake, "cut off", `the file stops here, ${where}`, rawText(intake, cells), line);
    return;
  }
  if (cells.length !== length) {
    setAside(intake, "wrong number of columns", `${cells.length} instead of the header's ${length}`, rawText(intake, cells), line);
    return;
  }
  const stamp = intake.stamps.read(stampText(columns, cells));
  if (Number.isNaN(stamp)) setAsideForStamp(intake, columns, cells, line);
  else useRow(intake, columns, cells, line, stamp + intake.clockCorrectionMs);
}

/** The time cell, with that of the time of day behind it where it stands by itself. */
function stampText({ timeAt, timeOfDayAt }: RowColumns, cells: readonly string[]): string {
  return timeOfDayAt < 0 ? cells[timeAt]! : `${cells[timeAt]!.trim()} ${cells[timeOfDayAt]!.trim()}`;
}

function useRow(intake: RowIntake, columns: RowColumns, cells: readonly string[], line: number, instant: number): void {
  const { tally, values, valueIntakes } = intake;
  const plans = plansOf(columns, cells);
  let found = 0;
  let missing = 0;
  for (const plan of plans) {
    const value = valueAt(plan, cells);
    if (isValue(value)) {
      values[found] = value;
      valueIntakes[found] = plan.intake;
      found++;
    } else if (value === NO_NEWS) missing++;
  }
  const unreadable = plans.length - found - missing;
  if (found === 0) {
    const [reason, detail] = whyNoValue(intake, columns, cells, plans, unreadable);
    const [only] = plans;
    const channel = reason === "channel not in the site file" ? { channel: (cells[columns.channelAt] ?? "").trim() } : {};
    setAside(intake, reason, detail, rawText(intake, cells), line, only === undefined || unreadable === 0 ? channel : { about: { signal: only.intake.signal.id, at: instant } });
    return;
  }
  if (unreadable > 0) {
    tally.unreadableCells += unreadable;
    // The row's text once: with a thousand cells it would be repeated a thousand times.
    unreadableCells(intake, cells, plans).forEach(([reason, detail], i) => { report(intake, reason, `${detail}; the rest of the row was used`, i === 0 ? rawText(intake, cells) : SAME_ROW, line); });
  }
  tally.missingCells += missing;
  if (addValues(intake, found, instant) === 0) tally.duplicate++;
  else countAccepted(intake, instant);
}

function valueAt({ intake, first, second }: Plan, cells: readonly string[]): number {
  return intake.read(cells[first]!, second < 0 ? "" : cells[second]!);
}

/** Adds the first `found` values of the row at hand; returns how many of them are new. */
function addValues({ values, valueIntakes }: RowIntake, found: number, instant: number): number {
  let added = 0;
  for (let i = 0; i < found; i++) {
    const { series } = valueIntakes[i]!;
    if (seriesHas(series, instant, values[i]!)) continue;
    addToSeries(series, instant, values[i]!);
    added++;
  }
  return added;
}

function countAccepted(intake: RowIntake, instant: number): void {
  const { tally, stamps } = intake;
  tally.accepted++;
  if (stamps.note === "repeated") tally.repeatedHourRows++;
  else if (stamps.note === "shifted") tally.shiftedRows++;
  if (instant < intake.lastInstant) tally.outOfOrderRows++;
  intake.lastInstant = instant;
  if (instant < tally.first) tally.first = instant;
  if (instant > tally.last) tally.last = instant;
}

/** Of several reasons, the first that is more than silence. */
function whyNoValue(intake: RowIntake, columns: RowColumns, cells: readonly string[], plans: readonly Plan[], unreadable: number): readonly [SetAsideReason, string] {
  const { layout } = intake.source;
  const [only, ...others] = plans;
  if (only === undefined && isLeftOut(intake, cells[columns.channelAt] ?? "")) return ["channel left out", quoted(intake, columnOfChannel(layout), cells[columns.channelAt] ?? "")];
  if (only === undefined) return ["channel not in the site file", quoted(intake, columnOfChannel(layout), cells[columns.channelAt] ?? "")];
  const [firstUnreadable] = unreadable > 0 ? unreadableCells(intake, cells, plans) : [];
  return firstUnreadable ?? ["no value", `nothing in ${others.length === 0 ? `column "${only.intake.firstColumn}"` : "any column of a signal"}`];
}

function columnOfChannel(layout: Source["layout"]): string {
  return layout.form === "long" ? layout.signalColumn : "";
}

function isLeftOut({ leftOut }: RowIntake, channel: string): boolean {
  return leftOut.has(channel) || leftOut.has(channel.trim());
}

function unreadableCells({ withheld }: RowIntake, cells: readonly string[], plans: readonly Plan[]): (readonly [SetAsideReason, string])[] {
  return plans.flatMap((plan) => {
    const given = valueAt(plan, cells);
    if (isValue(given) || given === NO_NEWS) return [];
    const { signal, firstColumn } = plan.intake;
    const { reason, detail } = cellProblem(given, cells[plan.first]!, firstColumn);
    return [[reason, withheld ? `signal "${signal.id}"` : detail] as const];
  });
}

function setAsideForStamp(intake: RowIntake, columns: RowColumns, cells: readonly string[], line: number): void {
  const { header } = columns;
  const { source, stamps } = intake;
  const cell = stampText(columns, cells);
  const raw = rawText(intake, cells);
  if (stamps.note === "skipped") {
    setAside(intake, "local time skipped by a clock change", `${quoted(intake, source.timeColumn, cell)} does not exist in ${source.zone}`, raw, line);
  } else if (cells.every((one, i) => one === header[i])) {
    setAside(intake, "repeated header", "the row repeats the column names", raw, line);
  } else if (stamps.note === "restarted") {
    setAside(intake, "time stamp not readable", `${quoted(intake, source.timeColumn, cell)}: the device began to count anew in this file, and nothing says when`, raw, line);
  } else {
    setAside(intake, "time stamp not readable", `${quoted(intake, source.timeColumn, cell)} is not written as ${writingText(source.written)}${stampLook(cell, source)}`, raw, line);
  }
}

function setAside(intake: RowIntake, reason: SetAsideReason, detail: string, raw: string, line: number, more: Pick<SetAsideRow, "about" | "channel"> = {}): void {
  const counts = intake.tally.setAside;
  counts.set(reason, (counts.get(reason) ?? 0) + 1);
  report(intake, reason, detail, raw, line, more);
}

function report(
  { file, withheld, onSetAside }: RowIntake,
  reason: SetAsideReason,
  detail: string,
  raw: string,
  line: number,
  more: Pick<SetAsideRow, "about" | "channel"> = {},
): void {
  // A slip of a column could put a place where the channel stands.
  onSetAside({ file, line, reason, detail, raw: withheld ? WITHHELD : raw, ...(withheld ? {} : more) });
}

/** `column "stamp": "…"`; without the cell where it could, by a slip of a column, be a position. */
function quoted({ withheld }: RowIntake, column: string, cell: string): string {
  return withheld ? `column "${column}"` : `column "${column}": "${cell.slice(0, 60)}"`;
}

/** The row as it may have been written: with quotes around the cells that need them. */
function rawText({ source }: RowIntake, cells: readonly string[]): string {
  const written = cells.map((cell) => (/["\r\n]/.test(cell) || cell.includes(source.delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell));
  return written.join(source.delimiter).slice(0, LONGEST_RAW_CHARACTERS);
}

/** The first row could not even be split into cells. */
function headProblem(reason: SetAsideReason, detail: string, file: string, line: number): ProblemParts {
  return reason === "text not decodable"
    ? {
        code: "file-binary",
        what: "The header cannot be decoded",
        file,
        line,
        expected: "UTF-8 text, or what `encoding` says",
        found: "other bytes",
        mend: "say `encoding: windows-1252` in the site file if that is what it is, or save the file as UTF-8",
      }
    : {
        code: "header-missing",
        what: "The file has no readable header row",
        file,
        line,
        expected: "a first row with column names",
        found: `${reason} (${detail})`,
        mend: "look at the first line of the file",
      };
}
