import type { TopLevelSpec } from "vega-lite";
import type { Findings } from "../../result/schema.js";
import type { LocalClock } from "../local-time.js";
import { type Breadth, palette, theme } from "./theme.js";

/** How often something went wrong in one hour of one day of the week. */
export interface WeekCell {
  /** Place of the day in the clock's week. */
  readonly day: number;
  readonly hour: number;
  readonly count: number;
}

const HOURS = 24;
const measures: Readonly<Record<Breadth, { cell: number; row: number; left: number; hourEvery: number }>> = {
  wide: { cell: 26, row: 26, left: 96, hourEvery: 3 },
  narrow: { cell: 11, row: 18, left: 50, hourEvery: 6 },
};

/** Phantoms by when they began, and missed turns by their episode's anchor, counted by local hour and day of the week; only cells that hold something. */
export function weekCells(findings: Pick<Findings, "phantoms" | "episodes">, clock: LocalClock): WeekCell[] {
  const instants = [
    ...findings.phantoms.map(({ from }) => from),
    ...findings.episodes.flatMap(({ anchor, participants }) => participants.filter(({ outcome }) => outcome === "missed").map(() => anchor)),
  ];
  const counts = new Map<number, number>();
  for (const instant of instants) {
    const at = instant;
    const key = clock.weekday(at) * HOURS + clock.hour(at);
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  return [...counts].sort(([a], [b]) => a - b).map(([key, count]) => ({ day: Math.floor(key / HOURS), hour: key % HOURS, count }));
}

/** A square an hour of the week, its area by how much went wrong in it; the number stands in it where there is room. */
export function weekGrid(cells: readonly WeekCell[], clock: LocalClock, breadth: Breadth): TopLevelSpec {
  const { cell, row, left, hourEvery } = measures[breadth];
  const most = Math.max(1, ...cells.map(({ count }) => count));
  const squares = cells.map(({ day, hour, count }) => {
    const half = (Math.sqrt(count / most) * (cell - 2)) / 2;
    const [x, y] = [left + (hour + 0.5) * cell, (day + 0.5) * row];
    return { x: x - half, x2: x + half, y: y - half, y2: y + half, cx: x, cy: y, label: String(count), roomy: half > 8 };
  });
  const px = (field: string) => ({ field, type: "quantitative" as const, scale: null, axis: null });
  const width = left + HOURS * cell;
  const height = clock.weekdays.length * row;
  const lines = [
    ...clock.weekdays.map((_, day) => ({ x: left, x2: width, y: (day + 1) * row, y2: (day + 1) * row })),
    ...Array.from({ length: HOURS / hourEvery + 1 }, (_, index) => ({ x: left + index * hourEvery * cell, x2: left + index * hourEvery * cell, y: 0, y2: height + 4 })),
  ];
  const hours = Array.from({ length: HOURS / hourEvery }, (_, index) => ({ x: left + index * hourEvery * cell, y: height + 8, label: `${String(index * hourEvery).padStart(2, "0")}:00` }));
  const text = (values: object[], align: "left" | "center", baseline: "middle" | "top", color: string) =>
    ({ data: { values }, mark: { type: "text", align, baseline, color }, encoding: { x: px("x"), y: px("y"), text: { field: "label", type: "nominal" } } }) as const;
  return {
    autosize: "none",
    padding: { left: 1, right: 1, top: 2, bottom: 26 },
    width,
    height,
    config: theme,
    layer: [
      { data: { values: lines }, mark: { type: "rule", color: palette.hair }, encoding: { x: px("x"), x2: { field: "x2" }, y: px("y"), y2: { field: "y2" } } },
      text(clock.weekdays.map((label, day) => ({ x: 0, y: (day + 0.5) * row, label: breadth === "wide" ? label.long : label.short })), "left", "middle", palette.ink),
      text(hours, "left", "top", palette.soft),
      { data: { values: squares }, mark: { type: "rect", fill: palette.wash, stroke: palette.signal, strokeWidth: 1.5 }, encoding: { x: px("x"), x2: { field: "x2" }, y: px("y"), y2: { field: "y2" } } },
      text(squares.filter(({ roomy }) => roomy).map(({ cx, cy, label }) => ({ x: cx, y: cy, label })), "center", "middle", palette.ink),
    ],
  };
}
