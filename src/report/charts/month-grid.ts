import type { TopLevelSpec } from "vega-lite";
import { shortened } from "../visible-text.js";
import { type Layer, marks, rules, texts, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, palette, theme } from "./theme.js";

/** One figure of one row over the periods, oldest first; null where a period has none. Drawn by its size, whatever its sign. */
export interface GridLine {
  readonly values: readonly (number | null)[];
  /** A diamond marks the last point. */
  readonly changed: boolean;
}

/** What stands above a column, and how its numbers are written. */
export interface GridColumn {
  readonly head: string;
  readonly write: (value: number) => string;
  /** The top of the scale, at least. */
  readonly atLeast: number;
}

/** A row with its name and a line a column. */
export interface GridRow {
  readonly name: string;
  readonly lines: readonly GridLine[];
}

const measures: Readonly<Record<Breadth, { left: number; row: number; line: number; gap: number; number: number; head: number; characters: number }>> = {
  wide: { left: 200, row: 34, line: 20, gap: 26, number: 46, head: 26, characters: 27 },
  narrow: { left: 0, row: 52, line: 20, gap: 10, number: 36, head: 26, characters: 44 },
};

/**
 * Small lines over the periods: a row a thing, a column a figure, a point a period, the last one full with its number beside
 * it; a diamond where it changed beyond chance. All rows of a column share one scale from 0, so that they can be compared.
 */
export function monthGrid(columns: readonly GridColumn[], rows: readonly GridRow[], breadth: Breadth): TopLevelSpec {
  const { left, row, line, gap, number, head, characters } = measures[breadth];
  const width = chartWidthPx[breadth];
  const columnWidth = (width - left - gap * (columns.length - 1)) / columns.length;
  const xOf = (column: number): number => left + column * (columnWidth + gap);
  const floor = (index: number): number => head + (index + 1) * row - 7;
  const layers = columns.flatMap((column, at): Layer[] => {
    const lines = rows.map(({ lines: of }) => of[at] ?? { values: [], changed: false });
    const top = Math.max(column.atLeast, ...lines.flatMap(({ values }) => values.map((value) => Math.abs(value ?? 0))));
    const placed = lines.map(({ values, changed }, index) => ({
      points: values.flatMap((value, period) => {
        const last = period === values.length - 1;
        const x = xOf(at) + 4 + (values.length === 1 ? 0 : (period / (values.length - 1)) * (columnWidth - number - 8));
        return value === null ? [] : [{ x, y: floor(index) - (Math.abs(value) / top) * line, value, last, period }];
      }),
      changed,
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
    height: head + rows.length * row + 2,
    config: theme,
    layer: withContent([
      texts(rows.map(({ name }, index) => ({ x: 0, y: breadth === "wide" ? floor(index) - line / 2 : floor(index) - line - 13, label: shortened(name, characters) })), { align: "left", baseline: "middle", color: palette.ink }),
      ...layers,
    ]),
  };
}
