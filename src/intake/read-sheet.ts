import { InputError } from "../ground/problem.js";
import type { InputFile } from "./input-file.js";
import { LONGEST_RAW_CHARACTERS, type RowSink } from "./row-sink.js";
import { columnOf, MOST_COLUMNS, numberText } from "./sheet-cells.js";
import { makeTextGathering, openWorkbook, pushTags, type Workbook } from "./workbook.js";
import { makeTagReader } from "./xml-tags.js";
import { memberChunks } from "./zip-archive.js";

/** A longer text is no cell of readings: its row is set aside, so that memory stays bounded. Our own choice. */
const LONGEST_CELL = 65_536;

/** How far a sheet has been read. */
interface State {
  readonly book: Workbook;
  readonly sink: RowSink;
  /** How many columns the row of column names has; null before it. */
  width: number | null;
  /** The first row above it, which holds one value only: a title, unless nothing else comes. */
  title: { readonly cells: readonly string[]; readonly row: number } | null;
  row: number;
  cells: string[];
  /** The cell at hand: where it stands, how its value is written, and the number of its style. */
  column: number;
  /** Cells of the row so far, with or without a value. */
  cellCount: number;
  type: string;
  style: number;
  value: string;
  isValue: boolean;
  /** What is wrong with the row at hand; empty if nothing is. */
  wrong: string;
}

/**
 * Reads a sheet of a spreadsheet (`.xlsx`: ECMA-376) as if it were text with a header: its first row with two values names the columns (what
 * stands above is a title); a row's line is its number in the sheet. Dates are written in ISO 8601 without a zone, times of day as `hh:mm:ss`, numbers with a point,
 * yes and no as `true` and `false`; of a formula its last result. Rows without a value are none. Throws `InputError` if the file is not whole.
 * The rows are streamed: of the file only its texts are held in memory.
 */
export async function readSheet(file: InputFile, sheetName: string, sink: RowSink, goOn: (bytes: number) => boolean | Promise<boolean>): Promise<void> {
  const book = await openWorkbook(file);
  const sheet = book.sheets.find(({ name }) => name === sheetName);
  if (sheet === undefined) throw new InputError([{ code: "file-missing", what: `The spreadsheet has no sheet "${sheetName}"`, file: file.name, mend: "leave the file alone while it is read" }]);
  const state: State = { book, sink, width: null, title: null, row: 0, cells: [], column: -1, cellCount: 0, type: "n", style: 0, value: "", isValue: false, wrong: "" };
  const within = makeTextGathering();
  const reader = makeTagReader({
    open(name, attributes) {
      if (name === "row") beginRow(state, attributes);
      else if (name === "c") {
        beginCell(state, attributes);
        if (state.cellCount > MOST_COLUMNS) throw tooMany(file.name, state.row);
        within.begin();
      } else if (name === "v") state.isValue = true;
      else within.open(name);
    },
    text(text) {
      if (state.isValue) state.value += text;
      else within.add(text);
      if (state.value.length + within.text().length > LONGEST_CELL) throw tooLong(file.name, state.row);
    },
    close(name) {
      if (name === "v") state.isValue = false;
      else if (name === "c") endCell(state, within.text());
      else if (name === "row") endRow(state);
      else within.close(name);
    },
  });
  let bytes = 0;
  for await (const chunk of memberChunks(file, sheet.member, (read) => (bytes = read))) {
    pushTags(file.name, sheet.member, reader, chunk);
    if (!(await goOn(bytes))) return;
  }
  pushTags(file.name, sheet.member, reader, null);
  if (state.width === null && state.title !== null) sink.row(state.title.cells, state.title.row, true);
}

function beginRow(state: State, { r }: Readonly<Record<string, string>>): void {
  const row = Number(r);
  state.row = Number.isInteger(row) && row > state.row ? row : state.row + 1;
  state.cells = [];
  state.column = -1;
  state.cellCount = 0;
  state.wrong = "";
}

function beginCell(state: State, { r, t, s }: Readonly<Record<string, string>>): void {
  const column = r === undefined ? state.column + 1 : columnOf(r);
  if (Number.isNaN(column)) state.wrong = `a cell is called "${(r ?? "").slice(0, 20)}"`;
  state.column = Number.isNaN(column) ? state.column + 1 : column;
  state.cellCount += 1;
  state.type = t ?? "n";
  state.style = Number(s ?? 0);
  state.value = "";
}

function endCell(state: State, inline: string): void {
  const text = cellText(state, inline);
  if (text === null) state.wrong = `a cell names the text ${state.value.slice(0, 20)}, which there is not`;
  else if (text !== "") {
    while (state.cells.length < state.column) state.cells.push("");
    state.cells[state.column] = text;
  }
}

/** Null for a cell that names a text which there is not. */
function cellText({ type, value, style, book }: State, inline: string): string | null {
  switch (type) {
    case "s":
      return value === "" ? "" : (book.texts[Number(value)] ?? null);
    case "inlineStr":
      return inline;
    case "b":
      return value === "1" ? "true" : value === "0" ? "false" : value;
    case "n":
      return numberText(value, book.styles[style] ?? null, book.is1904);
    default:
      // A formula's text, an error such as #N/A, or a date that is written out.
      return value;
  }
}

function endRow(state: State): void {
  const { cells, sink, row, wrong, width } = state;
  if (wrong !== "") {
    sink.badRow("markup not well-formed", wrong, cells.join(" | ").slice(0, LONGEST_RAW_CHARACTERS), row);
    return;
  }
  const values = cells.filter((cell) => cell.trim() !== "").length;
  if (values === 0) return;
  if (width === null && values === 1) {
    state.title ??= { cells, row };
    return;
  }
  // Cells that stand empty at the end of a row are not in the file.
  while (cells.length < (width ?? 0)) cells.push("");
  state.width ??= cells.length;
  sink.row(cells, row, true);
}

function tooLong(file: string, line: number): InputError {
  return new InputError([{ code: "file-binary", what: "A cell of the sheet is too long", file, line, expected: `at most ${LONGEST_CELL} characters`, found: "more", mend: "shorten it, or save the sheet as CSV" }]);
}

function tooMany(file: string, line: number): InputError {
  return new InputError([{ code: "file-binary", what: "A row of the sheet has too many cells", file, line, expected: `at most ${MOST_COLUMNS.toLocaleString("en-GB")}`, found: "more", mend: "save the sheet again, or as CSV" }]);
}
