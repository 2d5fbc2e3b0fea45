/** Signs that begin a formula; the wide ones are those of East Asian keyboards. */
const SIGNS = "=+\\-@\uff1d\uff0b\uff0d\uff20";
/** What may stand before such a sign without keeping a spreadsheet from seeing it. */
const IN_FRONT = `["'\\p{Zs}\ufeff]*`;

/**
 * Where some spreadsheet lets a cell begin, and a formula begins. Behind a semicolon too: where decimals have a comma, spreadsheets split there, and
 * take no notice of quotes that open behind a comma. Others split at tabs, and such quotes do not keep a line break from ending a row.
 */
const places = [
  { behind: "(?<=^|;)", followed: `(?=${IN_FRONT}[${SIGNS}\\t\\r\\n])` },
  { behind: "(?<=[\\t\\r\\n])", followed: `(?=${IN_FRONT}[${SIGNS}])` },
];
const unguardedPlace = new RegExp(places.map(({ behind, followed }) => behind + followed).join("|"), "gu");
const guardedPlace = new RegExp(places.map(({ behind, followed }) => `${behind}'${followed}`).join("|"), "gu");

/** No formula begins at a letter or digit, and there is no other place in such text where a cell could begin: most cells are so, and this is told soonest. */
const plain = /^[\p{L}\p{N}][^;\t\r\n]*$/u;

/** A negative number, or dashes that stand for nothing: as a whole cell a spreadsheet runs neither. */
const harmless = /^(?:-\d+(?:[.,]\d+)?|-+)$/;

/**
 * Text for a cell of CSV, with an apostrophe wherever a spreadsheet would see a formula begin: before `=`, `+`, `-`, `@`, a tab or a line break at the
 * beginning of the cell or behind a semicolon, and before the first four behind a tab or a line break. Where an apostrophe stands there already it gets one
 * more, so that {@link unguarded} undoes it whatever the text. A negative number stays as it is, and so do dashes alone, unless the cell is the `first` of
 * its row: what stands behind a comma may belong to it.
 */
export function guarded(text: string, first: boolean): string {
  return plain.test(text) || (!first && harmless.test(text)) ? text : text.replace(unguardedPlace, "'");
}

/** The text that {@link guarded} was given. Text that nobody guarded stays as it is, unless an apostrophe stands before a sign as above. */
export function unguarded(text: string): string {
  return text.includes("'") ? text.replace(guardedPlace, "") : text;
}
