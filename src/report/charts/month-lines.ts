import type { Months } from "../../result/months-schema.js";
import { amountText, shareText } from "../format.js";
import { type GridColumn, monthGrid } from "./month-grid.js";
import type { Sheet } from "./sheet.js";
import type { Breadth } from "./theme.js";

/** A signal with its figures over the periods. */
export type Series = Months["series"][number];
/** Two sources with how far their clocks were apart over the periods. */
export type ClockSeries = Months["clocks"][number];

type SeriesPoint = Series["points"][number];
type Measure = Months["changes"][number]["measure"];

interface Column<Point> extends GridColumn {
  readonly of: (point: Point, all: readonly Point[]) => number | null;
  /** Changes of these measures mark the last point. */
  readonly measures: readonly Measure[];
  /** Left out where no row has a value. */
  readonly optional?: true;
}

const signed = (value: number): string => `${value > 0 ? "+" : ""}${amountText(value, 2)}`;

const columns: readonly Column<SeriesPoint>[] = [
  {
    head: "visits missed",
    of: ({ missedShare }) => missedShare.value,
    measures: ["missed visits"],
    write: (value) => shareText(value, 2),
    atLeast: 0.1,
  },
  {
    head: "phantoms",
    of: ({ phantomsPer30Days }) => phantomsPer30Days.value,
    measures: ["phantoms"],
    write: (value) => amountText(value, 2),
    atLeast: 1,
  },
  {
    head: "time known",
    of: ({ knownShare }) => knownShare,
    measures: ["known time", "silences", "restarts"],
    write: (value) => shareText(value, 2),
    atLeast: 1,
  },
  { head: "moved, cm", of: movedCentimetres, measures: ["reading when occupied"], write: signed, atLeast: 5, optional: true },
];

const clockColumns: readonly Column<ClockSeries["points"][number]>[] = [
  { head: "later by, s", of: ({ offsetSeconds }) => offsetSeconds.value, measures: ["clock offset"], write: signed, atLeast: 10 },
  {
    head: "drift, s a day",
    of: ({ driftSecondsPerDay }) => driftSecondsPerDay.value,
    measures: ["clock drift"],
    write: signed,
    atLeast: 1,
  },
];

/**
 * How far the median reading when occupied lies from the first period's: the readings themselves differ from meter to
 * meter.
 */
function movedCentimetres({ occupiedMetres }: SeriesPoint, all: readonly SeriesPoint[]): number | null {
  const first = all.find((point) => point.occupiedMetres.value !== null)?.occupiedMetres.value ?? null;
  return occupiedMetres.value === null || first === null ? null : Math.round((occupiedMetres.value - first) * 1000) / 10;
}

/** A row for each signal; see {@link monthGrid}. The column of readings is there only where a signal has some. */
export function monthLines(series: readonly Series[], changes: Months["changes"], breadth: Breadth): Sheet {
  const shown = columns.filter(
    (column) => column.optional !== true || series.some(({ points }) => points.some((point) => column.of(point, points) !== null)),
  );
  const changed = (signal: string, measures: readonly Measure[]): boolean =>
    changes.some(
      (change) => change.beyondChance && change.against === null && change.signal === signal && measures.includes(change.measure),
    );
  return monthGrid(
    shown,
    series.map(({ signal, points }) => ({
      name: signal,
      lines: shown.map((column) => ({
        values: points.map((point) => column.of(point, points)),
        changed: changed(signal, column.measures),
      })),
    })),
    breadth,
  );
}

/** A row for each pair of sources: how much later the second's stamps were, and how that grew. */
export function monthClockLines(clocks: readonly ClockSeries[], changes: Months["changes"], breadth: Breadth): Sheet {
  const changed = ({ first, second }: ClockSeries, measures: readonly Measure[]): boolean =>
    changes.some(
      (change) => change.beyondChance && change.signal === second && change.against === first && measures.includes(change.measure),
    );
  return monthGrid(
    clockColumns,
    clocks.map((pair) => ({
      name: `${pair.second} against ${pair.first}`,
      lines: clockColumns.map((column) => ({
        values: pair.points.map((point) => column.of(point, pair.points)),
        changed: changed(pair, column.measures),
      })),
    })),
    breadth,
  );
}

/**
 * The signals to show where there are too many: those that changed beyond chance come first, else the order of the
 * site.
 */
export function shownSeries({ series, changes }: Months, most: number): readonly Series[] {
  if (series.length <= most) return series;
  const changed = new Set(changes.filter(({ beyondChance, against }) => beyondChance && against === null).map(({ signal }) => signal));
  const shown = new Set(
    [...series.filter(({ signal }) => changed.has(signal)), ...series.filter(({ signal }) => !changed.has(signal))].slice(0, most),
  );
  return series.filter((one) => shown.has(one));
}

/**
 * The pairs of sources to show: those with an offset in some period, those that changed first where there are too
 * many.
 */
export function shownClocks({ clocks, changes }: Months, most: number): ClockSeries[] {
  const known = clocks.filter(({ points }) => points.some(({ offsetSeconds }) => offsetSeconds.value !== null));
  if (known.length <= most) return known;
  const hasChanged = ({ first, second }: ClockSeries): boolean =>
    changes.some((change) => change.beyondChance && change.signal === second && change.against === first);
  const shown = new Set([...known.filter(hasChanged), ...known.filter((pair) => !hasChanged(pair))].slice(0, most));
  return known.filter((pair) => shown.has(pair));
}
