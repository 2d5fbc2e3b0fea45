import { cross } from "d3-array";
import { DAY_MS } from "../ground/units.js";
import { isMonthName } from "../intake/month-names.js";
import { makeStampReader } from "../intake/stamp.js";
import { timeWriting } from "../site/time-pattern.js";
import { counted, shown } from "./shown.js";

/** A time cell with the place it came from, for the evidence: a line of the file, or a row where it has no lines. */
export interface PlacedCell {
  readonly text: string;
  readonly line: number;
  readonly isLine: boolean;
}

/** How a column's stamps are written, and how that is known. */
export interface WritingFound {
  /** As the site file says it: `iso`, `epoch-s`, `epoch-ms` or a pattern. */
  readonly written: string;
  readonly readable: number;
  readonly cells: number;
  readonly evidence: string;
  /** What the stamps leave open: day and month in either order read equally well. Null when nothing is open. */
  readonly open: string | null;
  /** The other way that reads as well, where that is open. */
  readonly rival: string | null;
  /** Whether stamps carry their offset from UTC: all of them, some, or none. Epochs need none and count as all. */
  readonly offsets: "all" | "some" | "none";
}

/** Stamps before 2000 or after 2100 are numbers of another kind (our own choice). */
const EARLIEST_MS = Date.UTC(2000, 0);
const LATEST_MS = Date.UTC(2100, 0);
/** A column holds time stamps when at least this share of its cells reads as such (our own choice). */
const LEAST_READABLE_SHARE = 0.8;
/** This many cells are read in every way that could fit. */
const TRIED_CELLS = 400;

/** A day of the week, three parts of a date, and a time with what may follow it; each group is a part or what stands between. */
const dateAndTime = new RegExp(
  [
    String.raw`^([A-Za-z]{3,9},? )?`,
    String.raw`(\d{1,4}|\p{L}{3,10}\.?)(\. |[-./ ])(\d{1,2}|\p{L}{3,10}\.?)(,?[-./ ])(\d{1,4})`,
    String.raw`([T ,]+)(\d{1,2})([:.])(\d{2})(?:\9(\d{2})(?:([.,])(\d{3}))?)?`,
    String.raw`( ?)([AaPp]\.?\s?[Mm]\.?)?( ?)(Z|[+-]\d{2}:?\d{2})?$`,
  ].join(""),
  "u",
);

/**
 * How the stamps of a column are written; null when too few of its cells are stamps. Several ways are tried; the one
 * that reads most cells wins, and the first cell that it reads and its rival does not is the evidence.
 */
export function findWriting(cells: readonly PlacedCell[]): WritingFound | null {
  const news = cells.filter(({ text }) => text.trim() !== "");
  if (news.length === 0) return null;
  const step = Math.max(1, Math.floor(news.length / TRIED_CELLS));
  const tried = news.filter((_, i) => i % step === 0);
  // All ways are tried on some of the cells; only the best is counted on all of them, as stamps that do not fit are slow to refuse.
  const ranked = candidates(tried)
    .map((written) => ({ written, share: shareRead(tried, written) }))
    .sort((a, b) => b.share - a.share);
  const [likeliest] = ranked;
  if (likeliest === undefined || likeliest.share < LEAST_READABLE_SHARE / 2) return null;
  const best = { written: likeliest.written, readable: readableCount(news, likeliest.written) };
  if (best.readable < LEAST_READABLE_SHARE * news.length) return null;
  // Another width of a field is no rival, another order is.
  const rival = ranked.find(({ written, share }) => share > 0 && orderOf(written) !== orderOf(best.written));
  const saying = readingText(news, best.written, best.readable);
  const offsets = offsetsOf(best.written, news);
  const found = { written: best.written, readable: best.readable, cells: news.length, offsets, rival: null };
  if (rival === undefined) return { ...found, evidence: saying, open: null };
  const [byBest, byRival] = [canRead(best.written), canRead(rival.written)];
  const excluding = news.find(({ text }) => byBest(text) && !byRival(text));
  if (excluding !== undefined) {
    return { ...found, evidence: `${saying}; ${placeOf(excluding)} (${shown(excluding.text)}) excludes ${rival.written}`, open: null };
  }
  // Both read: readings that lie together in time are likelier than readings spread over the months.
  const [chosen, other] = span(news, best.written) <= span(news, rival.written) ? [best, rival] : [rival, best];
  const question = swapped(chosen.written, other.written)
    ? "day before month or month before day? No stamp has a day above 12"
    : `in which order are day, month and year? As many stamps read as ${other.written}`;
  const [fewer, more] = [days(span(news, chosen.written)), days(span(news, other.written))];
  return {
    ...found,
    written: chosen.written,
    rival: other.written,
    evidence: `${saying.replace(best.written, chosen.written)}, and as many as ${other.written}`,
    open: `${question}. ${chosen.written} is written here because the stamps then lie within ${fewer} days instead of ${more}`,
  };
}

/**
 * The way of writing that reads most of a column's stamps, where none reads enough: how many it reads, and one that it
 * does not. Null when none reads any.
 */
export function nearestWriting(cells: readonly PlacedCell[]): string | null {
  const news = cells.filter(({ text }) => text.trim() !== "");
  const tried = news.slice(0, TRIED_CELLS);
  const [likeliest] = candidates(tried)
    .map((written) => ({ written, share: shareRead(tried, written) }))
    .sort((a, b) => b.share - a.share);
  return likeliest === undefined || likeliest.share === 0
    ? null
    : readingText(news, likeliest.written, readableCount(news, likeliest.written));
}

/** How many stamps read so, and the first of those that do not. */
function readingText(news: readonly PlacedCell[], written: string, readable: number): string {
  const reads = canRead(written);
  const odd = readable === news.length ? undefined : news.find(({ text }) => !reads(text));
  const exception = odd === undefined ? "" : `; ${placeOf(odd)} (${shown(odd.text)}) does not`;
  return `${counted(readable)} of ${counted(news.length)} stamps read as ${written}${exception}`;
}

function placeOf({ line, isLine }: PlacedCell): string {
  return `${isLine ? "line" : "row"} ${counted(line)}`;
}

function swapped(a: string, b: string): boolean {
  const order = (written: string): string => orderOf(written).replace(/[^yMd]/g, "");
  return order(a).replace(/[Md]/g, "x") === order(b).replace(/[Md]/g, "x");
}

/** The order of a pattern's fields, whatever their width. */
function orderOf(written: string): string {
  return written.replace(/([A-Za-z])\1*/g, "$1");
}

/** The ways that the shape of the cells allows. Day and month are tried both ways round. */
function candidates(cells: readonly PlacedCell[]): string[] {
  const found = new Set<string>();
  const texts = cells.map(({ text }) => text.trim());
  if (texts.some((text) => /^(?:\d{4}-\d{2}-\d{2}[Tt ]|\d{8}[Tt]\d{4})/.test(text))) found.add("iso");
  if (texts.some((text) => /^\d{9,10}(?:\.\d+)?$/.test(text))) found.add("epoch-s");
  if (texts.some((text) => /^\d{12,13}$/.test(text))) found.add("epoch-ms");
  for (const text of texts) {
    if (found.size > 40) break;
    for (const pattern of patternsOf(text)) found.add(pattern);
  }
  // ISO reads its own stamps in more spellings than any pattern.
  return found.has("iso") ? ["iso"] : [...found];
}

function patternsOf(text: string): string[] {
  const match = dateAndTime.exec(text);
  if (match === null) return [];
  const [
    ,
    weekday = "",
    first = "",
    gap1 = "",
    second = "",
    gap2 = "",
    third = "",
    gap3 = "",
    hour = "",
    colon = "",
    ,
    seconds,
    point,
    ,
    gap4 = "",
    half,
    gap5 = "",
    offset,
  ] = match;
  const number = (token: string, digits: string): string[] =>
    digits.length === 2 ? (digits.startsWith("0") ? [token.repeat(2)] : [token.repeat(2), token]) : [token];
  const month = (digits: string): string[] => (/^\d/.test(digits) ? number("M", digits) : !isMonthName(digits) ? [] : digits.replace(".", "").length === 3 ? ["MMM"] : ["MMMM"]);
  const orders: [string[], string[], string[]][] = [];
  if (first.length === 4 && /^\d/.test(first)) {
    if (third.length <= 2) orders.push([["yyyy"], month(second), number("d", third)]);
  } else if (third.length === 4 || third.length === 2) {
    const year = [third.length === 4 ? "yyyy" : "yy"];
    if (/^\d/.test(first)) orders.push([number("d", first), month(second), year]);
    if (/^\d/.test(second)) orders.push([month(first), number("d", second), year]);
    if (third.length === 2 && first.length === 2 && /^\d\d$/.test(first + second.slice(2))) {
      orders.push([["yy"], month(second), number("d", third)]);
    }
  }
  const day = weekday.replace(/[A-Za-z]+/, (name) => (name.length === 3 ? "EEE" : "EEEE"));
  const ss = seconds === undefined ? "" : `${colon}ss`;
  const fraction = point === undefined ? "" : `${point}SSS`;
  const halfDay = half === undefined ? "" : "a";
  const zone = offset === undefined ? "" : offset.includes(":") || offset === "Z" ? "ZZ" : "ZZZ";
  const time = (h: string): string => `${h}${colon}mm${ss}${fraction}${gap4}${halfDay}${gap5}${zone}`;
  const literal = (gap: string): string => gap.replaceAll("T", "'T'");
  const hours = number(half === undefined ? "H" : "h", hour);
  return orders.flatMap(([ones, twos, threes]) =>
    cross(ones, twos, threes, hours).map(([one, two, three, h]) => `${day}${one}${gap1}${two}${gap2}${three}${literal(gap3)}${time(h)}`),
  );
}

/** Reads cells written in one way: an instant, or NaN. */
function instantReader(written: string): (text: string) => number {
  const reader = makeStampReader({ written: timeWriting(written), zone: "UTC", skippedHour: "shift" });
  return (text) => {
    const instant = reader.read(text);
    return instant >= EARLIEST_MS && instant < LATEST_MS ? instant : Number.NaN;
  };
}

/** Tells whether a cell can be read as written in one way. */
function canRead(written: string): (text: string) => boolean {
  const instantOf = instantReader(written);
  return (text) => !Number.isNaN(instantOf(text));
}

function readableCount(cells: readonly PlacedCell[], written: string): number {
  const reads = canRead(written);
  return cells.filter(({ text }) => reads(text)).length;
}

function shareRead(cells: readonly PlacedCell[], written: string): number {
  return readableCount(cells, written) / cells.length;
}

function span(cells: readonly PlacedCell[], written: string): number {
  const instantOf = instantReader(written);
  let [first, last] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { text } of cells) {
    const instant = instantOf(text);
    if (instant < first) first = instant;
    if (instant > last) last = instant;
  }
  return last - first;
}

function days(ms: number): string {
  return counted(Math.ceil(ms / DAY_MS));
}

function offsetsOf(written: string, cells: readonly PlacedCell[]): "all" | "some" | "none" {
  if (written.startsWith("epoch-")) return "all";
  const withOffset = cells.filter(({ text }) => offsetMinutes(text) !== null).length;
  return withOffset === 0 ? "none" : withOffset >= 0.99 * cells.length ? "all" : "some";
}

/** The offset from UTC that a stamp ends with, in minutes; null without one. */
export function offsetMinutes(text: string): number | null {
  const match = /\d(?:\.\d+)? ?(?:(Z)|([+-])(\d{2}):?(\d{2})?)$/.exec(text.trim());
  if (match === null || !(text.includes(":") || /^\d{8}[Tt]/.test(text.trim()))) return null;
  if (match[1] !== undefined) return 0;
  return (match[2] === "-" ? -1 : 1) * (Number(match[3]) * 60 + Number(match[4] ?? 0));
}
