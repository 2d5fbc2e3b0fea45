import { sourcesOf, type SignalSpec, type Source } from "../site/site.js";
import { metresPerUnit } from "../site/length.js";
import { makeCellReader, type CellReader } from "./cells.js";
import type { PackedReadings } from "./packed-readings.js";
import { makeSeries, type Series } from "./series.js";

/** How one signal's readings are taken from a source's rows, and where they go. */
export interface SignalIntake {
  readonly signal: SignalSpec;
  readonly read: CellReader;
  /** The column of the value, or of the latitude. */
  readonly firstColumn: string;
  /** The column of the longitude; null for everything but positions. */
  readonly secondColumn: string | null;
  readonly series: Series;
}

/** Readings by signal that earlier files hold. */
export type KnownReadings = ReadonlyMap<string, readonly PackedReadings[]>;

/** The intake of every signal of a source, for one file; `known` readings count as there already. */
export function signalIntakes(source: Source, signals: readonly SignalSpec[], known: KnownReadings = new Map()): SignalIntake[] {
  return signals.filter((signal) => sourcesOf(signal).includes(source.id)).map((signal) => {
    const [firstColumn, secondColumn] = columnsOf(source, signal);
    return { signal, read: makeCellReader(signal.reading, source), firstColumn, secondColumn, series: makeSeries(stepOf(signal), known.get(signal.id)) };
  });
}

/** The unit in which a signal's values are short decimals. */
function stepOf({ reading }: SignalSpec): number {
  return reading.form === "distance" ? metresPerUnit[reading.unit] : 1;
}

/** The columns that a source needs, each once. */
export function wantedColumns(source: Source, intakes: readonly SignalIntake[]): string[] {
  const columns = [source.timeColumn, ...(source.timeOfDayColumn === undefined ? [] : [source.timeOfDayColumn])];
  if (source.layout.form === "long") columns.push(source.layout.signalColumn);
  for (const { firstColumn, secondColumn } of intakes) columns.push(firstColumn, ...(secondColumn === null ? [] : [secondColumn]));
  return [...new Set(columns)];
}

/** Whether the source's rows say where somebody was: then no text of theirs may outlive intake. */
export function holdsPositions(source: Source, intakes: readonly SignalIntake[]): boolean {
  return intakes.some(({ secondColumn }) => secondColumn !== null) || (source.layout.form === "long" && source.layout.latitudeColumn !== null);
}

function columnsOf({ id, layout }: Source, signal: SignalSpec): [string, string | null] {
  const isPosition = signal.reading.form === "position";
  if (layout.form === "long") {
    if (isPosition && layout.latitudeColumn !== null && layout.longitudeColumn !== null) return [layout.latitudeColumn, layout.longitudeColumn];
    if (!isPosition && layout.valueColumn !== null) return [layout.valueColumn, null];
  } else {
    const columns = layout.columns.get(signal.id);
    if (columns !== undefined && "value" in columns && !isPosition) return [columns.value, null];
    if (columns !== undefined && "latitude" in columns && isPosition) return [columns.latitude, columns.longitude];
  }
  throw new RangeError(`the source ${JSON.stringify(id)} names no column for the signal ${JSON.stringify(signal.id)}`);
}
