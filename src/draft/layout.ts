import { classHint, tokensOf } from "./names.js";
import { choicesOf, type DraftChoice } from "./questions.js";
import { pairOf, standing } from "./words.js";

/** What a column holds, cell by cell. */
export interface ColumnLook {
  readonly name: string;
  readonly index: number;
  readonly news: number;
  readonly rows: number;
  readonly numeric: number;
  /** Share of rows whose text differs from that of the row before. */
  readonly turnover: number;
  /** Cells by their text, at most {@link MOST_TEXTS} different ones. */
  readonly texts: ReadonlyMap<string, number>;
}

/** More different texts than this are neither channels nor words. */
const MOST_TEXTS = 2_000;
/** States last: a column whose text changes in a larger share of the rows is none (our own choice). */
const LEAST_TURNOVER = 0.2;
/** The most channels that one export may have (our own choice). */
const MOST_CHANNELS = 1_000;

/**
 * How an export's rows hold readings. Columns by their index. `because`: what speaks for it, where it is not the look
 * of the columns.
 */
export type LayoutFound = LongLayout | WideLayout;

/** A column says which signal a row is about; its reading is in `value`, or in `latitude` and `longitude`. */
export interface LongLayout {
  readonly form: "long";
  readonly signal: number;
  readonly value: number | null;
  readonly latitude: number | null;
  readonly longitude: number | null;
  readonly unsure: string | null;
  /** Answers to what is unsure. */
  readonly choices?: readonly DraftChoice[];
  readonly because?: string;
}

/** Every column is a signal. */
interface WideLayout {
  readonly form: "wide";
  readonly values: readonly number[];
  readonly positions: readonly PositionColumns[];
  readonly unsure: string | null;
  /** Answers to what is unsure. */
  readonly choices?: readonly DraftChoice[];
  readonly because?: string;
}

/** The two columns of a position, and whose it is by their names; empty where nothing says so. */
export interface PositionColumns {
  readonly latitude: number;
  readonly longitude: number;
  readonly name: string;
}

/** Looks through one column. */
export function lookAt(name: string, index: number, rows: readonly (readonly string[])[]): ColumnLook {
  const texts = new Map<string, number>();
  let news = 0;
  let numeric = 0;
  let turns = 0;
  let previous = "";
  for (const cells of rows) {
    const cell = (cells[index] ?? "").trim();
    if (cell !== previous) turns++;
    previous = cell;
    if (standing(cell) !== "missing") {
      news++;
      if (isNumber(cell)) numeric++;
    }
    const before = texts.get(cell);
    if (before !== undefined || texts.size < MOST_TEXTS) texts.set(cell, (before ?? 0) + 1);
  }
  return { name, index, news, rows: rows.length, numeric, turnover: rows.length === 0 ? 0 : turns / rows.length, texts };
}

/** Whether a cell is a plain decimal number, also with a decimal comma. */
export function isNumber(cell: string): boolean {
  return /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$/.test(cell);
}

/** Whether a cell is a number with its unit, which no reading may have. */
export function isNumberWithUnit(cell: string): boolean {
  return /^[+-]?\d[\d.,]*\s?(?:mm|cm|m|km|metres?|meters?|ft|feet|foot|in|inch(?:es)?|["'′″]|%|°?[CF]|m?V|dBm?|lx|lux)$/i.test(cell);
}

/**
 * Long (a column says which signal the row is about) or wide (a column a signal). A channel column is never empty, has
 * few different texts that are no states, and stands beside a value column. `columns` are all but the time column. `said`:
 * what the person answered to what was unsure.
 */
export function findLayout(columns: readonly ColumnLook[], said: string | null = null): LayoutFound {
  const latitudes = columns.filter(({ name }) => tokensOf(name).some((token) => token === "lat" || token === "latitude"));
  const longitudes = columns.filter(({ name }) => tokensOf(name).some((token) => ["lon", "lng", "long", "longitude"].includes(token)));
  const places = [...latitudes, ...longitudes];
  const others = columns.filter((column) => !places.includes(column));
  const channel = others
    .map((column) => ({ column, score: channelScore(column, others.length + (places.length > 0 ? 1 : 0)) }))
    .map(({ column, score }) => ({ column, score: said === `names:${column.name}` ? Infinity : score }))
    .filter(({ score }) => score > 0)
    .sort((a, b) => b.score - a.score)[0]?.column;
  if (channel === undefined) {
    const positions = latitudes.flatMap(({ index: latitude, name }, i) =>
      longitudes[i] === undefined
        ? []
        : [
            {
              latitude,
              longitude: longitudes[i].index,
              name: tokensOf(name)
                .filter((token) => token !== "lat" && token !== "latitude")
                .join("-"),
            },
          ],
    );
    const odd =
      others.length < 2
        ? undefined
        : others.find(
            (column) =>
              column.news === column.rows &&
              column.numeric < column.news / 2 &&
              newsOf(column).length === 2 &&
              pairOf([...column.texts.keys()]) === null,
          );
    return {
      form: "wide",
      values: others.map(({ index }) => index),
      positions,
      unsure:
        odd === undefined || said === "states"
          ? null
          : `does the column "${odd.name}" hold states, as taken here, or does it say which signal the row is about?`,
      choices:
        odd === undefined
          ? []
          : [
              { answer: "states", says: "It holds states" },
              { answer: `names:${odd.name}`, says: "It says which signal the row is about" },
            ],
    };
  }
  const values = others
    .filter((column) => column !== channel && column.news > 0)
    .sort((a, b) => Number(b.name === said) - Number(a.name === said) || valueHint(b) - valueHint(a) || b.news - a.news);
  const [value, rival] = values;
  const isClear = value?.name === said || rival === undefined || value === undefined || valueHint(value) > valueHint(rival) || rival.news < value.news / 2;
  return {
    form: "long",
    signal: channel.index,
    value: value?.index ?? null,
    latitude: latitudes[0]?.index ?? null,
    longitude: longitudes[0]?.index ?? null,
    unsure: isClear ? null : `which column holds the reading: "${value.name}" or "${rival.name}"?`,
    choices: isClear ? [] : choicesOf([value.name, rival.name]),
  };
}

function channelScore(column: ColumnLook, others: number): number {
  if (others < 2 || column.news < 0.95 * column.rows || column.texts.size > Math.min(MOST_CHANNELS, Math.max(3, column.rows / 2))) return 0;
  if (valueHint(column) > 0 || pairOf([...column.texts.keys()]) !== null) return 0;
  const named = isChannelName(column.name);
  if (column.numeric > 0.5 * column.news && !named) return 0;
  // Readings, or states that are not always known: no channel is called so.
  const texts = [...column.texts.keys()];
  if (!named && (texts.some((text) => standing(text) === "lost") || texts.filter(isNumberWithUnit).length > texts.length / 2)) return 0;
  if (
    column.texts.size < 3 &&
    !named &&
    column.turnover < LEAST_TURNOVER &&
    ![...column.texts.keys()].some((text) => classHint(text) !== null)
  ) {
    return 0;
  }
  return (named ? 1_000 : 0) + 100 / column.texts.size;
}

function newsOf(column: ColumnLook): string[] {
  return [...column.texts.keys()].filter((text) => standing(text) === "news");
}

/** Whether a column's name says that it holds channels. */
export function isChannelName(name: string): boolean {
  return tokensOf(name).some((token) => channelNames.includes(token));
}

/** How columns of channels and of readings are often called (common practice, no source). */
const channelNames = ["channel", "signal", "sensor", "id", "point", "device", "name", "input", "tag", "node", "item", "source", "who", "thing", "gerät", "appareil", "aparato"];
const valueNames = ["value", "reading", "state", "says", "status", "d", "distance", "measurement", "level", "v"];

function valueHint(column: ColumnLook): number {
  return tokensOf(column.name).some((token) => valueNames.includes(token)) ? 1 : 0;
}
