import type { TopLevelSpec } from "vega-lite";
import type { Months } from "../../findings/months-schema.js";
import { amountText, shareText } from "../format.js";
import { shortened } from "../visible-text.js";
import { type Layer, marks, rules, texts, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, palette, theme } from "./theme.js";

/** A signal with its figures over the periods. */
export type Series = Months["series"][number];

type SeriesPoint = Series["points"][number];

interface Column {
  readonly head: string;
  readonly of: (point: SeriesPoint) => number | null;
  /** Changes of these measures mark the last point. */
  readonly measures: readonly Months["changes"][number]["measure"][];
  readonly write: (value: number) => string;
  /** The top of the scale, at least. */
  readonly atLeast: number;
}

const columns: readonly Column[] = [
  { head: "visits missed", of: ({ missedShare }) => missedShare.value, measures: ["missed visits"], write: (value) => shareText(value, 2), atLeast: 0.1 },
  { head: "phantoms", of: ({ phantomsPer30Days }) => phantomsPer30Days.value, measures: ["phantoms"], write: (value) => amountText(value, 2), atLeast: 1 },
  { head: "time known", of: ({ knownShare }) => knownShare, measures: ["known time", "silences", "restarts"], write: (value) => shareText(value, 2), atLeast: 1 },
];
const measures: Readonly<Record<Breadth, { left: number; row: number; line: number; gap: number; number: number; head: number; characters: number }>> = {
  wide: { left: 200, row: 34, line: 20, gap: 26, number: 46, head: 26, characters: 27 },
  narrow: { left: 0, row: 52, line: 20, gap: 10, number: 36, head: 26, characters: 44 },
};

/**
 * A row a signal, a small line a figure: a point a period, the last one full with its number beside it; a diamond and
 * "changed" where it changed beyond chance. All rows of a column share one scale from 0, so that they can be compared.
 */
export function monthLines(series: readonly Series[], changes: Months["changes"], breadth: Breadth): TopLevelSpec {
  const { left, row, line, gap, number, head, characters } = measures[breadth];
  const width = chartWidthPx[breadth];
  const columnWidth = (width - left - gap * (columns.length - 1)) / columns.length;
  const xOf = (column: number): number => left + column * (columnWidth + gap);
  const floor = (index: number): number => head + (index + 1) * row - 7;
  const layers = columns.flatMap((column, at): Layer[] => {
    const top = Math.max(column.atLeast, ...series.flatMap(({ points }) => points.map((point) => column.of(point) ?? 0)));
    const placed = series.map(({ signal, points }, index) => ({
      points: points.flatMap((point, period) => {
        const value = column.of(point);
        const last = period === points.length - 1;
        const x = xOf(at) + 4 + (points.length === 1 ? 0 : (period / (points.length - 1)) * (columnWidth - number - 8));
        return value === null ? [] : [{ x, y: floor(index) - (value / top) * line, value, last, period }];
      }),
      changed: changes.some((change) => change.beyondChance && change.signal === signal && column.measures.includes(change.measure)),
      floor: floor(index),
    }));
    const joined = placed.flatMap(({ points }) => points.slice(1).flatMap((point, index) => {
      const before = points[index];
      return before === undefined || point.period !== before.period + 1 ? [] : [{ x: before.x, y: before.y, x2: point.x, y2: point.y }];
    }));
    const last = placed.flatMap(({ points, changed }) => points.filter((point) => point.last).map((point) => ({ ...point, changed })));
    const end = xOf(at) + columnWidth - number;
    return [
      texts([{ x: xOf(at), y: 9, label: column.head }], { align: "left", baseline: "middle", color: palette.soft }),
      rules(placed.map((one) => ({ x: xOf(at), x2: end, y: one.floor + 2, y2: one.floor + 2 })), { color: palette.hair }),
      rules(joined, { color: palette.signal, strokeWidth: 1.5 }),
      marks(placed.flatMap(({ points }) => points.filter((point) => !point.last)), "circle", 18, { color: palette.signal }),
      marks(last.filter(({ changed }) => !changed), "circle", 48, { color: palette.signal }),
      marks(last.filter(({ changed }) => changed), "diamond", 110, { color: palette.breaks }),
      texts(last.map(({ value, y }) => ({ x: end + 4, y, label: column.write(value) })), { align: "left", baseline: "middle", color: palette.ink }),
      texts(placed.filter(({ points }) => !points.some((point) => point.last)).map((one) => ({ x: end + 4, y: one.floor - 4, label: "none" })), { align: "left", baseline: "middle", color: palette.soft }),
    ];
  });
  return {
    autosize: "none",
    padding: 0,
    width,
    height: head + series.length * row + 2,
    config: theme,
    layer: withContent([
      texts(series.map(({ signal }, index) => ({ x: 0, y: breadth === "wide" ? floor(index) - line / 2 : floor(index) - line - 13, label: shortened(signal, characters) })), { align: "left", baseline: "middle", color: palette.ink }),
      ...layers,
    ]),
  };
}

/** The signals to show where there are too many: those that changed beyond chance come first, else the order of the site. */
export function shownSeries({ series, changes }: Months, most: number): Series[] {
  if (series.length <= most) return series;
  const changed = new Set(changes.filter(({ beyondChance }) => beyondChance).map(({ signal }) => signal));
  const shown = new Set([...series.filter(({ signal }) => changed.has(signal)), ...series.filter(({ signal }) => !changed.has(signal))].slice(0, most));
  return series.filter((one) => shown.has(one));
}
