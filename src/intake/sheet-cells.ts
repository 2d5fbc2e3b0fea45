import { DAY_MS } from "../ground/units.js";

/** What a number format shows of a number that is a date: the day, the time of day, or both. */
export type DateParts = "date" | "time" | "both";

/** Formats that every spreadsheet has without writing them down (ECMA-376, part 1, 18.8.30, from memory). */
const builtIn: ReadonlyMap<number, DateParts> = new Map([
  ...[14, 15, 16, 17, 27, 28, 29, 30, 31, 34, 35, 36, 50, 51, 52, 53, 54, 55, 56, 57, 58].map((id) => [id, "date"] as const),
  ...[18, 19, 20, 21, 32, 33, 45, 46, 47].map((id) => [id, "time"] as const),
  [22, "both"],
]);

/** What a number format shows: by its code where the file has one, else by its number. Null for formats of plain numbers. */
export function datePartsOf(id: number, code: string | undefined): DateParts | null {
  if (code === undefined) return builtIn.get(id) ?? null;
  // What stands between quotes or behind a backslash is text; in brackets stand colours and conditions, but [h] is an hour.
  const [positive = ""] = code.replace(/"[^"]*"|\\.|_.|\*./g, "").split(";");
  const letters = positive.replace(/\[(h+|m+|s+)\]/gi, "$1").replace(/\[[^\]]*\]/g, "").replace(/am\/pm|a\/p/gi, "h").toLowerCase();
  if (/general|[0#?@]/.test(letters.replace(/s[.,]0+/g, "s"))) return null;
  const hasTime = /[hs]/.test(letters);
  const hasDate = /[yd]|mmm/.test(letters);
  return hasTime && hasDate ? "both" : hasTime ? "time" : hasDate ? "date" : null;
}

/** Days are counted so that 1 March 1900 is 61: spreadsheets know a 29 February 1900, which there was not. */
const EPOCH_1900_MS = Date.UTC(1899, 11, 30);
const EPOCH_1904_MS = Date.UTC(1904, 0, 1);
/** Later days (year 9999) are no dates. */
const LAST_DAY = 2_958_466;
/** A number of days shown as hours is a length of time up to here, and beyond it an instant whose day is not shown. Our own choice. */
const LONGEST_TIME_DAYS = 366;
/** What a cell shows of a number: more digits than this are what is left of calculating in binary. */
const SHOWN_DIGITS = 15;

/** A number cell as text: a date in ISO 8601 without a zone, a time of day as `hh:mm:ss`, else the number as it is shown. */
export function numberText(written: string, parts: DateParts | null, is1904: boolean): string {
  const value = Number(written);
  if (written.trim() === "" || !Number.isFinite(value)) return written;
  if (parts === null || value < 0 || value >= LAST_DAY) return String(Number(value.toPrecision(SHOWN_DIGITS)));
  const ms = Math.round(value * DAY_MS);
  const iso = new Date((is1904 ? EPOCH_1904_MS : EPOCH_1900_MS) + ms).toISOString().slice(0, -1);
  const time = iso.slice(11).replace(/\.000$/, "");
  if (parts === "time" && ms < DAY_MS) return time;
  // Hours that go on past a day are a length of time, no time of day.
  if (parts === "time" && value < LONGEST_TIME_DAYS) return String(Number(value.toPrecision(SHOWN_DIGITS)));
  return parts === "date" && ms % DAY_MS === 0 ? iso.slice(0, 10) : `${iso.slice(0, 10)}T${time}`;
}

/** Columns are lettered A to XFD. */
export const MOST_COLUMNS = 16_384;

/** The column (0-based) of a cell's name, such as 2 of C7; NaN for what is none. */
export function columnOf(name: string): number {
  const letters = /^([A-Z]{1,3})\d+$/.exec(name)?.[1];
  if (letters === undefined) return Number.NaN;
  let column = 0;
  for (const letter of letters) column = column * 26 + letter.charCodeAt(0) - 64;
  return column <= MOST_COLUMNS ? column - 1 : Number.NaN;
}
