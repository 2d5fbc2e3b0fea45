import { isPlace } from "../intake/place.js";
import { makeStampReader } from "../intake/stamp.js";
import { timeWriting } from "../site/time-pattern.js";
import { hasUnprintable } from "../site/yaml-text.js";
import { findBand } from "./bands.js";
import { cellAt } from "./cell.js";
import { findExpect } from "./expect.js";
import type { FoundReading, FoundReadings, FoundSignal, FoundSource } from "./found.js";
import { isNumber, isNumberWithUnit, type LongLayout, type PositionColumns } from "./layout.js";
import { classHint, freeName, plainName, saysNothing, tokensOf } from "./names.js";
import type { Answers, DraftQuestion } from "./questions.js";
import { renamedChannels } from "./renamed-channels.js";
import type { Places } from "./resting-place.js";
import { shown } from "./shown.js";
import { namedMovement } from "./stirs.js";
import { fileWords } from "./sources.js";
import { findWords, standing, type WordsFound } from "./words.js";

/** More signals than this in one source are no signals (a text column was taken for channels). Our own choice. */
const MOST_SIGNALS = 1_000;
/** A meter's readings are numbers in at least this share of its news (our own choice). */
const LEAST_NUMBERS = 0.9;
/**
 * This many different whole numbers beside numbers such as 2,410 show that the sign stands between thousands (our own
 * choice).
 */
const FEWEST_PLAIN = 3;
/** A meter that is blinded says 0 now and then; a power or a count does so mostly (our own choice). */
const MOST_ZEROS = 0.5;
/** Names of what sensors measure besides distance: no state of a bay, door or person can be had from them. */
const otherMeasures = [
  "temp", "temperature", "humidity", "battery", "batt", "rssi", "voltage", "volt", "lux", "pressure", "power", "uptime",
  "accuracy", "speed", "altitude", "heading", "snr",
];

/**
 * The signals of a source; what is none is named in `unused` with the reason. Local stamps are read in `zone`. The places
 * of position signals go into `places` by signal and nowhere else: they are forgotten once a home has been looked for.
 */
export function findSignals(
  source: FoundSource,
  zone: string,
  taken: Set<string>,
  unused: UnusedName[],
  places: Map<string, Places>,
  asks: Asks,
): FoundSignal[] {
  const { layout } = source;
  const signals: FoundSignal[] = [];
  for (const { name, otherNames, columns, readings } of joined(collect(source, zone), source, asks)) {
    if (hasUnprintable(name)) {
      unused.push({ name, says: `channel ${shown(name)}: its name holds control characters` });
      continue;
    }
    const isPosition = "latitude" in columns;
    const called = calledIn(source, name);
    const reading = isPosition ? ({ form: "position", here: null } as const) : readingOf(called, readings.texts);
    if (typeof reading === "string") {
      unused.push({ name, says: `${layout.form === "long" ? "channel" : "column"} ${shown(name)}: ${reading}` });
      continue;
    }
    // Positions are nobody's business past this point: no cell of theirs is kept.
    const kept = isPosition ? { ...readings, texts: readings.texts.map(() => "") } : readings;
    const id = freeName(signalName(source, called, reading), taken);
    if (isPosition) places.set(id, placesOf(readings));
    signals.push({ id, source, name, otherNames, called, columns, readings: kept, reading, states: statesOf(reading, kept.texts), expect: findExpect(kept) });
  }
  return signals;
}

/** A channel or column that is no signal; `says` with the reason. */
export interface UnusedName {
  readonly name: string;
  readonly says: string;
}

/** The person's answers, and where further questions go. */
export interface Asks {
  readonly answers: Answers;
  readonly open: DraftQuestion[];
}

interface Collected {
  readonly name: string;
  readonly otherNames: readonly string[];
  readonly columns: FoundSignal["columns"];
  readonly readings: FoundReadings;
}

/** One cell that says something of a signal, or a position's two. `key` tells the signals of a source apart. */
interface Said {
  readonly key: string;
  readonly name: string;
  readonly columns: FoundSignal["columns"];
  readonly text: string;
}

interface Reading {
  readonly instant: number;
  readonly text: string;
  readonly stretch: number;
}

/** The readings of each signal of a source, in the order in which the signals come up; not more than a thousand signals. */
function collect(source: FoundSource, zone: string): Collected[] {
  const lists = new Map<string, { readonly name: string; readonly columns: FoundSignal["columns"]; readonly readings: Reading[] }>();
  for (const [file, { rows, whole }] of source.tables.entries()) {
    const stamps = makeStampReader({ written: timeWriting(source.written), zone, skippedHour: "shift" });
    for (const { cells, stretch } of rows) {
      const instant = stamps.read(cellAt(cells, source.timeColumn));
      if (Number.isNaN(instant)) continue;
      // Whole files follow one another; parts of a file are apart from everything else.
      const apart = whole ? 0 : 1 + file * 100_000 + stretch;
      for (const { key, name, columns, text } of saidIn(cells, source)) {
        const list = lists.get(key);
        if (list !== undefined) list.readings.push({ instant, text, stretch: apart });
        else if (lists.size < MOST_SIGNALS) lists.set(key, { name, columns, readings: [{ instant, text, stretch: apart }] });
      }
    }
  }
  return [...lists.values()].map(({ name, columns, readings }) => ({ name, otherNames: [], columns, readings: inOrder(readings) }));
}

/** The same with channels that go on under another name put together. Columns are renamed file by file: see renamed.ts. */
function joined(collected: readonly Collected[], { layout }: FoundSource, { answers, open }: Asks): Collected[] {
  if (layout.form === "wide") return [...collected];
  const valued = collected.filter(({ columns }) => "value" in columns);
  const renamed = renamedChannels(valued.map(({ name, readings }) => ({ name, times: [...readings.times], texts: readings.texts })), answers);
  open.push(...renamed.flatMap(({ question }) => question ?? []));
  const nextOf = new Map(renamed.map(({ from, to }) => [from, to]));
  const later = new Set(nextOf.values());
  return collected
    .filter((one) => !valued.includes(one) || !later.has(one.name))
    .map((one) => {
      if (!valued.includes(one)) return one;
      const chain = [one];
      for (let next = nextOf.get(one.name); next !== undefined; next = nextOf.get(next)) chain.push(...valued.filter(({ name }) => name === next));
      return chain.length === 1 ? one : { ...one, otherNames: chain.slice(1).map(({ name }) => name), readings: oneAfterTheOther(chain) };
    });
}

function oneAfterTheOther(chain: readonly Collected[]): FoundReadings {
  return {
    times: Float64Array.from(chain.flatMap(({ readings }) => [...readings.times])),
    texts: chain.flatMap(({ readings }) => readings.texts),
    stretches: Int32Array.from(chain.flatMap(({ readings }) => [...readings.stretches])),
  };
}

/** What a row says; cells that say nothing are left out. */
function saidIn(cells: readonly string[], source: FoundSource): Said[] {
  const { layout } = source;
  if (layout.form === "wide") return [...valuesIn(cells, source.header, layout.values), ...positionsIn(cells, source.id, layout.positions)];
  const said = saidOfChannel(cells, layout);
  return said === null || standing(said.text) === "missing" ? [] : [said];
}

function valuesIn(cells: readonly string[], header: readonly string[], columns: readonly number[]): Said[] {
  return columns.flatMap((value) => {
    const text = cellAt(cells, value).trim();
    return standing(text) === "missing" ? [] : [{ key: `v${value}`, name: cellAt(header, value), columns: { value }, text }];
  });
}

function positionsIn(cells: readonly string[], sourceId: string, positions: readonly PositionColumns[]): Said[] {
  return positions.flatMap(({ latitude, longitude, name }) => {
    if (standing(cellAt(cells, latitude)) === "missing") return [];
    const text = placeText(cellAt(cells, latitude), cellAt(cells, longitude));
    return [{ key: `p${latitude}`, name: name || sourceId, columns: { latitude, longitude }, text }];
  });
}

/** The one reading of a row: a place where it has one and no number beside it, else the value. */
function saidOfChannel(cells: readonly string[], { signal, value, latitude, longitude }: LongLayout): Said | null {
  const name = cellAt(cells, signal).trim();
  if (name === "") return null;
  const text = value === null ? "" : cellAt(cells, value).trim();
  if (latitude !== null && longitude !== null && !isNumber(text)) {
    const first = cellAt(cells, latitude).trim();
    if (isNumber(first)) {
      return { key: `p${name}`, name, columns: { latitude, longitude }, text: placeText(first, cellAt(cells, longitude)) };
    }
  }
  return value === null ? null : { key: `v${name}`, name, columns: { value }, text };
}

/** Both cells of a position as one text. */
function placeText(latitude: string, longitude: string): string {
  return `${latitude.trim()} ${longitude.trim()}`;
}

/** Degrees from such texts; NaN for what is no place. */
function placesOf({ times, stretches, texts }: FoundReadings): Places {
  const latitudes = new Float64Array(texts.length).fill(Number.NaN);
  const longitudes = new Float64Array(texts.length).fill(Number.NaN);
  texts.forEach((text, i) => {
    const cells = text.split(" ");
    if (cells.length !== 2 || !cells.every(isNumber)) return;
    const [latitude, longitude] = cells.map((cell) => Number(cell.replace(",", "."))) as [number, number];
    if (!isPlace(latitude, longitude)) return;
    latitudes[i] = latitude;
    longitudes[i] = longitude;
  });
  return { times, stretches, latitudes, longitudes };
}

function inOrder(readings: readonly Reading[]): FoundReadings {
  const sorted = [...readings].sort((a, b) => a.instant - b.instant);
  const kept = sorted.filter(({ instant, text }, i) => sorted[i - 1]?.instant !== instant || sorted[i - 1]?.text !== text);
  return {
    times: Float64Array.from(kept, ({ instant }) => instant),
    texts: kept.map(({ text }) => text),
    stretches: Int32Array.from(kept, ({ stretch }) => stretch),
  };
}

/** How a signal is read, or why it is none. */
function readingOf(name: string, texts: readonly string[]): FoundReading | string {
  const counts = new Map<string, number>();
  for (const text of texts) counts.set(text, (counts.get(text) ?? 0) + 1);
  const words = findWords(counts) ?? onlyWord(name, counts);
  if (words !== null && words.meaning !== "unknown" && !isAmount(words)) return { form: "words", words };
  const news = texts.filter((text) => standing(text) === "news");
  const unreadable = numbersInWriting(news);
  if (unreadable !== null) return unreadable;
  const numbers = news.filter(isNumber).map((text) => Number(text.replace(",", ".")));
  if (news.length > 0 && numbers.length >= LEAST_NUMBERS * news.length) {
    if (tokensOf(name).some((token) => otherMeasures.includes(token))) return "measures something else than a distance";
    if (numbers.filter((value) => value <= 0).length > MOST_ZEROS * numbers.length) return "zero and negative numbers, which are no distances";
    if (words === null || new Set(numbers).size > 2) {
      return {
        form: "distance",
        band: findBand(numbers),
        numbers,
        odd: new Map([...counts].filter(([text]) => standing(text) === "news" && !isNumber(text))),
      };
    }
  }
  const odd = news.find((text) => !isNumber(text));
  if (words === null && odd !== undefined && numbers.length > news.length / 2) {
    return `numbers, but for ${Math.ceil(100 * (1 - numbers.length / news.length))} % of the cells, such as ${shown(odd)}`;
  }
  return words === null ? `${counts.size} different texts, neither two words nor numbers` : { form: "words", words };
}

/** The one word of a sensor that tells only when it notices something, such as a tap. */
function onlyWord(name: string, counts: ReadonlyMap<string, number>): WordsFound | null {
  const [only, ...others] = [...counts.keys()].filter((text) => standing(text) === "news");
  if (only === undefined || others.length > 0 || isNumber(only) || !namedMovement(name)) return null;
  return { on: [only], off: [], class: null, meaning: "plain", others: new Map() };
}

/** Whether 1 and 0 are only two of many numbers: a power or a count rather than a yes and no. */
function isAmount({ on, others }: WordsFound): boolean {
  return on.every(isNumber) && [...others.keys()].filter(isNumber).length > 1;
}

/** Why readings that are numbers to a reader's eye are none to the program, or would be other ones: said rather than misread. */
function numbersInWriting(news: readonly string[]): string | null {
  const unit = news.find(isNumberWithUnit);
  if (unit !== undefined && news.filter(isNumberWithUnit).length >= LEAST_NUMBERS * news.length) {
    return `numbers with their unit, such as ${shown(unit)}: export them without`;
  }
  // 2,410 and 820 in one column: a thousand times apart, were the sign taken for that of decimals.
  const grouped = news.filter((text) => /^[+-]?[1-9]\d{0,2}(?:[.,]\d{3})+(?:[.,]\d+)?$/.test(text));
  const [first] = grouped;
  if (first === undefined) return null;
  const plain = new Set(news.filter((text) => /^\d{1,3}$/.test(text)));
  const several =
    grouped.some((text) => /[.,]\d{3}[.,]/.test(text)) || [...plain].filter((text) => Number(text) >= 10).length >= FEWEST_PLAIN;
  const readable = grouped.length + news.filter((text) => plain.has(text)).length;
  if (!several || readable < LEAST_NUMBERS * news.length) return null;
  return `numbers with a sign between thousands, such as ${shown(first)}: export them without`;
}

function statesOf(reading: FoundReading, texts: readonly string[]): Float64Array {
  if (reading.form === "words") {
    const { on, off } = reading.words;
    return Float64Array.from(texts, (text) => (on.includes(text) ? 1 : off.includes(text) ? 0 : Number.NaN));
  }
  const band = reading.form === "distance" ? reading.band : null;
  if (band === null) return new Float64Array(texts.length).fill(Number.NaN);
  return Float64Array.from(texts, (text) => {
    if (!isNumber(text)) return Number.NaN;
    const value = Number(text.replace(",", "."));
    return value >= band.near && value <= band.far ? 1 : 0;
  });
}

/** The channel's or column's name; with the file's where the column could be any sensor's. */
function calledIn(source: FoundSource, name: string): string {
  const { layout } = source;
  if (layout.form === "long" || !saysNothing(name)) return name;
  const words = fileWords(source.tables);
  if (words === "" || saysNothing(words)) return name;
  return layout.values.length > 1 ? `${words} ${name}` : words;
}

/** The channel's or column's own name; a person's name gets the sort of sensor in front, which may not share it. */
function signalName(source: FoundSource, name: string, reading: FoundReading): string {
  const plain = plainName(name, "signal");
  if (reading.form === "position") return `place-${plain}`;
  if (reading.form === "words" && reading.words.class === "person" && classHint(name) === null) return `${sourceSort(source)}-${plain}`;
  return plain;
}

/** What carries a person's signals, after the name of the files and their folder. */
export function sourceSort({ tables: [{ name }] }: FoundSource): "phone" | "tag" {
  return namedPhone(name) ? "phone" : "tag";
}

const phoneWords = ["phone", "phones", "mobile", "mobiles", "handy", "handys", "telefon", "telefone", "téléphone", "teléfono", "móvil", "wifi", "wlan"];

/** Whether a name is that of a phone. */
export function namedPhone(name: string): boolean {
  return tokensOf(name).some((token) => phoneWords.includes(token));
}
