import { InputError, type ProblemParts } from "../ground/problem.js";
import type { Source } from "../site/site.js";
import { cellProblem, isValue, NO_NEWS } from "./cells.js";
import { holdsPositions, wantedColumns, type SignalIntake } from "./columns.js";
import { readHeader } from "./header.js";
import type { LedgerRow, SetAsideReason, SetAsideRow } from "./readings.js";
import { addToSeries, seriesHas } from "./series.js";
import { LONGEST_RAW_CHARACTERS } from "./rows.js";
import { makeStampReader } from "./stamp.js";
import { stampLook } from "./stamp-look.js";
import { emptyTally, ledgerRow } from "./tally.js";

/** Stands in set-aside rows of sources with positions: where somebody was does not outlive intake. */
const WITHHELD = "(withheld: this source holds positions)";

/** Takes one file's rows, the header first, into its source's series, in file order. */
export interface RowIntake {
  /**
   * Throws `InputError` if the first row is no header that fits. `ended` is false for the last row of a text that stops
   * without a line break.
   */
  readonly row: (cells: readonly string[], line: number, ended?: boolean) => void;
  /** A row that could not be taken apart. Throws `InputError` if it should have been the header. */
  readonly badRow: (reason: SetAsideReason, detail: string, raw: string, line: number) => void;
  /** Says, before its last row is given, that the file is known to stop too soon: a row that has no end is then not to be used. */
  readonly cutOff: () => void;
  /** Rows so far, header not counted. */
  readonly rows: () => number;
  /** The instant of the row accepted last; -Infinity before the first. */
  readonly lastInstant: () => number;
  /** Call once, after the last row. Throws `InputError` if there was nothing to read. */
  readonly finish: () => LedgerRow;
}

/** A signal's intake with its columns' places in this file; `second` is -1 where there is none. */
interface Plan {
  readonly intake: SignalIntake;
  readonly first: number;
  readonly second: number;
}

/** Makes the intake of the rows of one file (`name` relative to the site file's folder). */
export function makeRowIntake(source: Source, intakes: readonly SignalIntake[], name: string, onSetAside: (row: SetAsideRow) => void): RowIntake {
  const stamps = makeStampReader(source);
  const withheld = holdsPositions(source, intakes);
  const tally = emptyTally();
  const noPlans: readonly Plan[] = [];
  let header: readonly string[] | null = null;
  let timeAt = -1;
  let channelAt = -1;
  /** Long layout: which signals each channel feeds. */
  const byChannel = new Map<string, Plan[]>();
  /** Wide layout: every row feeds all. */
  let plans = noPlans;
  let rowsRead = 0;
  let lastInstant = -Infinity;
  /** The values of the row at hand, and the plans they belong to: no new array a row. */
  const values: number[] = [];
  const valuePlans: Plan[] = [];

  let isCutOff = false;
  const clockCorrectionMs = Math.round(source.clockCorrectionMs);

  return {
    row: onRow,
    badRow: onBadRow,
    cutOff: () => (isCutOff = true),
    rows: () => rowsRead,
    lastInstant: () => lastInstant,
    finish() {
      if (header === null) throw new InputError([{ code: "file-empty", what: "The file is empty", file: name, expected: "a header row and rows of readings", found: "nothing", mend: "export it again, or take it out of the site file" }]);
      return ledgerRow(tally, source.id, name, rowsRead, isCutOff);
    },
  };

  function onRow(cells: readonly string[], line: number, ended = true): void {
    if (header === null) {
      takeHeader(cells, line);
      return;
    }
    rowsRead++;
    if (!ended && (isCutOff || cells.length < header.length)) {
      isCutOff = true;
      setAside("cut off", `the file stops here, ${cells.length === header.length ? "perhaps inside the last cell" : `after ${cells.length} of ${header.length} columns`}`, cells, line);
      return;
    }
    if (cells.length !== header.length) {
      setAside("wrong number of columns", `${cells.length} instead of the header's ${header.length}`, cells, line);
      return;
    }
    const stamp = stamps.read(cells[timeAt]!);
    if (Number.isNaN(stamp)) setAsideForStamp(cells, line, header);
    else useRow(cells, line, stamp + clockCorrectionMs);
  }

  function useRow(cells: readonly string[], line: number, instant: number): void {
    const rowPlans = channelAt < 0 ? plans : plansOf(cells[channelAt]!);
    if (rowPlans.length === 0) {
      setAside("channel not in the site file", quoted(source.layout.form === "long" ? source.layout.signalColumn : "", cells[channelAt] ?? ""), cells, line);
      return;
    }
    let found = 0;
    let missing = 0;
    let unreadable = 0;
    for (const plan of rowPlans) {
      const value = plan.intake.read(cells[plan.first]!, plan.second < 0 ? "" : cells[plan.second]!);
      if (isValue(value)) {
        values[found] = value;
        valuePlans[found] = plan;
        found++;
      } else if (value === NO_NEWS) missing++;
      else unreadable++;
    }
    if (found === 0) {
      // Of several reasons the first that is more than silence.
      const [reason, detail] = unreadable > 0 ? unreadableCells(cells, rowPlans)[0]! : (["no value", `nothing in ${rowPlans.length === 1 ? `column "${rowPlans[0]!.intake.firstColumn}"` : "any column of a signal"}`] as const);
      setAside(reason, detail, cells, line);
      return;
    }
    let added = 0;
    for (let i = 0; i < found; i++) {
      const { series } = valuePlans[i]!.intake;
      if (seriesHas(series, instant, values[i]!)) continue;
      addToSeries(series, instant, values[i]!);
      added++;
    }
    if (unreadable > 0) {
      tally.unreadableCells += unreadable;
      for (const [reason, detail] of unreadableCells(cells, rowPlans)) report(reason, `${detail}; the rest of the row was used`, rawText(cells), line);
    }
    tally.missingCells += missing;
    if (added === 0) {
      tally.duplicate++;
      return;
    }
    tally.accepted++;
    if (stamps.note === "repeated") tally.repeatedHourRows++;
    else if (stamps.note === "shifted") tally.shiftedRows++;
    if (instant < lastInstant) tally.outOfOrderRows++;
    lastInstant = instant;
    if (instant < tally.first) tally.first = instant;
    if (instant > tally.last) tally.last = instant;
  }

  function unreadableCells(cells: readonly string[], rowPlans: readonly Plan[]): (readonly [SetAsideReason, string])[] {
    return rowPlans.flatMap(({ intake, first, second }) => {
      const given = intake.read(cells[first]!, second < 0 ? "" : cells[second]!);
      if (isValue(given) || given === NO_NEWS) return [];
      const { reason, detail } = cellProblem(given, cells[first]!, intake.firstColumn);
      return [[reason, withheld ? `signal "${intake.signal.id}"` : detail] as const];
    });
  }

  function takeHeader(cells: readonly string[], line: number): void {
    const reading = readHeader(cells, wantedColumns(source, intakes), { file: name, line, delimiter: source.delimiter }, looksLikeData);
    if (reading.at === null) throw new InputError([reading.problem]);
    const placeOf = (column: string): number => reading.at.get(column)!;
    header = [...cells];
    timeAt = placeOf(source.timeColumn);
    const filePlans = intakes.map((intake) => ({ intake, first: placeOf(intake.firstColumn), second: intake.secondColumn === null ? -1 : placeOf(intake.secondColumn) }));
    if (source.layout.form === "wide") {
      plans = filePlans;
      return;
    }
    channelAt = placeOf(source.layout.signalColumn);
    for (const plan of filePlans) {
      const channel = plan.intake.signal.channel ?? plan.intake.signal.id;
      byChannel.set(channel, [...(byChannel.get(channel) ?? []), plan]);
    }
  }

  function plansOf(channel: string): readonly Plan[] {
    return byChannel.get(channel) ?? byChannel.get(channel.trim()) ?? noPlans;
  }

  function looksLikeData(cell: string): boolean {
    // A fresh reader: the file's own remembers the order of its stamps.
    return /^[+-]?\d+[.,]\d+$/.test(cell) || (!/^\d{1,3}$/.test(cell) && !Number.isNaN(makeStampReader(source).read(cell)));
  }

  function setAsideForStamp(cells: readonly string[], line: number, names: readonly string[]): void {
    const cell = cells[timeAt]!;
    if (stamps.note === "skipped") setAside("local time skipped by a clock change", `${quoted(source.timeColumn, cell)} does not exist in ${source.zone}`, cells, line);
    else if (cells.every((one, i) => one === names[i])) setAside("repeated header", "the row repeats the column names", cells, line);
    else setAside("time stamp not readable", `${quoted(source.timeColumn, cell)} is not written as ${typeof source.written === "string" ? source.written : source.written.pattern}${stampLook(cell, source)}`, cells, line);
  }

  function onBadRow(reason: SetAsideReason, detail: string, raw: string, line: number): void {
    if (header === null) throw new InputError([headProblem(reason, detail, name, line)]);
    rowsRead++;
    tally.setAside.set(reason, (tally.setAside.get(reason) ?? 0) + 1);
    report(reason, detail, raw, line);
  }

  function setAside(reason: SetAsideReason, detail: string, cells: readonly string[], line: number): void {
    tally.setAside.set(reason, (tally.setAside.get(reason) ?? 0) + 1);
    report(reason, detail, rawText(cells), line);
  }

  function report(reason: SetAsideReason, detail: string, raw: string, line: number): void {
    onSetAside({ file: name, line, reason, detail, raw: withheld ? WITHHELD : raw });
  }

  /** `column "stamp": "…"`; without the cell where it could, by a slip of a column, be a position. */
  function quoted(column: string, cell: string): string {
    return withheld ? `column "${column}"` : `column "${column}": "${cell.slice(0, 60)}"`;
  }

  /** The row as it may have been written: cells quoted where they must be. */
  function rawText(cells: readonly string[]): string {
    if (withheld) return WITHHELD;
    const written = cells.map((cell) => (/["\r\n]/.test(cell) || cell.includes(source.delimiter) ? `"${cell.replaceAll('"', '""')}"` : cell));
    return written.join(source.delimiter).slice(0, LONGEST_RAW_CHARACTERS);
  }
}

/** The first row could not even be taken apart. */
function headProblem(reason: SetAsideReason, detail: string, file: string, line: number): ProblemParts {
  return reason === "text not decodable"
    ? { code: "file-binary", what: "The header cannot be decoded", file, line, expected: "UTF-8 text, or what `encoding` says", found: "other bytes", mend: "say `encoding: windows-1252` in the site file if that is what it is, or save the file as UTF-8" }
    : { code: "header-missing", what: "The file has no readable header row", file, line, expected: "a first row with column names", found: `${reason} (${detail})`, mend: "look at the first line of the file" };
}
