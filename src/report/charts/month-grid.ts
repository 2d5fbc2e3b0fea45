import { shortened } from "../visible-text.js";
import type { Layer, Sheet } from "./sheet.js";
import { type Breadth, chartWidthPx, palette } from "./theme.js";

/**
 * One figure of one row over the periods, oldest first; null where a period has none. Drawn by its size, whatever its
 * sign.
 */
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

/** A row with its name and a line for each column. */
export interface GridRow {
  readonly name: string;
  readonly lines: readonly GridLine[];
}

const measures: Readonly<
  Record<Breadth, { left: number; row: number; line: number; gap: number; number: number; head: number; characters: number }>
> = {
  wide: { left: 200, row: 34, line: 20, gap: 26, number: 46, head: 26, characters: 27 },
  narrow: { left: 0, row: 52, line: 20, gap: 10, number: 36, head: 26, characters: 44 },
};

/**
 * Small lines over the periods: a row for each thing, a column for each figure, a point for each period, the last one
 * with its number beside it; a diamond where it changed beyond chance. All rows of a column share one scale from 0,
 * so that they can be compared.
 */
export function monthGrid(columns: readonly GridColumn[], rows: readonly GridRow[], breadth: Breadth): Sheet {
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
    const without = placed.filter(({ points }) => !points.some((point) => point.last));
    return [
      { mark: "text", rows: [{ x: xOf(at), y: 9, label: column.head }], look: { fill: palette.soft } },
      {
        mark: "rule",
        rows: placed.map((one) => ({ x: xOf(at), x2: end, y: one.floor + 2, y2: one.floor + 2 })),
        look: { stroke: palette.hair },
      },
      { mark: "rule", rows: joined, look: { stroke: palette.signal, "stroke-width": 1.5 } },
      {
        mark: "point",
        shape: "circle",
        size: 18,
        rows: placed.flatMap(({ points }) => points.filter((point) => !point.last)),
        look: { fill: palette.signal },
      },
      { mark: "point", shape: "circle", size: 48, rows: last.filter(({ changed }) => !changed), look: { fill: palette.signal } },
      { mark: "point", shape: "diamond", size: 110, rows: last.filter(({ changed }) => changed), look: { fill: palette.breaks } },
      { mark: "text", rows: last.map(({ value, y }) => ({ x: end + 4, y, label: column.write(value) })), look: { fill: palette.ink } },
      { mark: "text", rows: without.map((one) => ({ x: end + 4, y: one.floor - 4, label: "none" })), look: { fill: palette.soft } },
    ];
  });
  return {
    width,
    height: head + rows.length * row + 2,
    layers: [
      {
        mark: "text",
        rows: rows.map(({ name }, index) => ({
          x: 0,
          y: breadth === "wide" ? floor(index) - line / 2 : floor(index) - line - 13,
          label: shortened(name, characters),
        })),
        look: { fill: palette.ink },
      },
      ...layers,
    ],
  };
}
