import type { ProblemParts } from "../ground/problem.js";
import { closestName } from "../site/closest-name.js";
import { delimiters } from "./delimiter.js";

/** A message shows up to this many column names. */
const SHOWN_COLUMNS = 30;

/** Where each wanted column stands (0-based), or what is wrong with the header. */
export type HeaderReading = { readonly at: ReadonlyMap<string, number>; readonly problem: null } | { readonly at: null; readonly problem: ProblemParts };

/**
 * Finds the wanted columns in a file's first row. Spaces around names do not count. Other columns may
 * repeat or have no name. `looksLikeData` tells whether a cell is data rather than a name, to recognise a missing header.
 * Problems: `header-missing`, `column-missing` (with every missing column), `column-repeated`.
 */
export function readHeader(cells: readonly string[], wanted: readonly string[], place: { readonly file: string; readonly line: number; readonly delimiter: string }, looksLikeData: (cell: string) => boolean): HeaderReading {
  const names = cells.map((cell) => cell.trim());
  const at = new Map(wanted.map((column) => [column, names.indexOf(column.trim())]));
  const lacking = [...at].filter(([, index]) => index < 0).map(([column]) => column);
  const where = { file: place.file, line: place.line };
  if (lacking.length > 0) {
    if (names.some(looksLikeData)) {
      // The cells are not shown: they are data, and may be somebody's whereabouts.
      return { at: null, problem: { ...where, code: "header-missing", what: "The file has no header row", expected: `a first row with the column names ${list(wanted)}`, found: "a row of data", mend: "export with column names, or add a first line with them" } };
    }
    return { at: null, problem: { ...where, code: "column-missing", what: `The header lacks ${lacking.length === 1 ? "the column" : "the columns"} ${list(lacking)}`, expected: list(wanted), found: `the columns ${list(names)}`, mend: hint(lacking, wanted.map((column) => column.trim()), names, place.delimiter) } };
  }
  const repeated = wanted.filter((column) => names.indexOf(column.trim()) !== names.lastIndexOf(column.trim()));
  if (repeated.length > 0) {
    return { at: null, problem: { ...where, code: "column-repeated", what: `The header names ${list(repeated)} more than once`, expected: "one column of each name that the site file uses", found: `the columns ${list(names)}`, mend: "rename or remove the columns that are not meant" } };
  }
  return { at, problem: null };
}

function hint(lacking: readonly string[], wanted: readonly string[], names: readonly string[], delimiter: string): string {
  const [first = "", ...others] = names;
  if (/^sep=/i.test(first)) return "delete this line, which only says what separates the columns, and say so with `delimiter`";
  const separator = delimiters.find((one) => one !== delimiter && others.length === 0 && first.includes(one));
  if (separator !== undefined) return `the header looks separated by ${separator === "\t" ? "tabs" : `"${separator}"`}: say so with \`delimiter\``;
  const meant = lacking.flatMap((column) => {
    const close = closestName(column.trim(), names) ?? names.find((name) => name.toLowerCase() === column.trim().toLowerCase());
    return close === undefined ? [] : [`did you mean "${close}" instead of "${column}"?`];
  });
  if (meant.length === 0 && others.length === 0) return "if this line is a title, delete the lines above the column names";
  if (meant.length > 0) return meant.join(" ");
  const [lacked = ""] = lacking;
  const unknown = names.filter((name) => name !== "" && !wanted.includes(name));
  const [renamed = ""] = unknown;
  // One column is missing and one is new: most likely it was renamed, which only the person can say.
  if (lacking.length === 1 && unknown.length === 1) return `if "${renamed.slice(0, 100)}" is what it is called now, write both names: ["${lacked.slice(0, 100)}", "${renamed.slice(0, 100)}"]`;
  return `name the columns as the file does; for one that is called otherwise in other files write all its names, as in ["${lacked.slice(0, 40)}", "new name"]`;
}

function list(names: readonly string[]): string {
  const shown = names.slice(0, SHOWN_COLUMNS).map((name) => `"${name.slice(0, 100)}"`);
  return shown.join(", ") + (names.length > SHOWN_COLUMNS ? ` and ${names.length - SHOWN_COLUMNS} more` : "");
}
