import { rollup } from "d3-array";
import { HOURS_PER_DAY } from "../../ground/units.js";
import type { Findings } from "../../result/schema.js";
import type { LocalClock } from "../local-time.js";
import type { Sheet } from "./sheet.js";
import { type Breadth, palette } from "./theme.js";

/** How often something went wrong in one hour of one day of the week. */
export interface WeekCell {
  /** Place of the day in the clock's week. */
  readonly day: number;
  readonly hour: number;
  readonly count: number;
}

const measures: Readonly<Record<Breadth, { cell: number; row: number; left: number; hourEvery: number }>> = {
  wide: { cell: 26, row: 26, left: 96, hourEvery: 3 },
  narrow: { cell: 11, row: 18, left: 50, hourEvery: 6 },
};

/**
 * Phantoms by when they began, and missed turns by their episode's anchor, counted by local hour and day of the week.
 * Empty cells are left out.
 */
export function weekCells(findings: Pick<Findings, "phantoms" | "episodes">, clock: LocalClock): WeekCell[] {
  const instants = [
    ...findings.phantoms.map(({ from }) => from),
    ...findings.episodes.flatMap(({ anchor, participants }) =>
      participants.filter(({ outcome }) => outcome === "missed").map(() => anchor),
    ),
  ];
  const counts = rollup(
    instants,
    ({ length }) => length,
    (at) => clock.weekday(at) * HOURS_PER_DAY + clock.hour(at),
  );
  return [...counts]
    .sort(([a], [b]) => a - b)
    .map(([key, count]) => ({ day: Math.floor(key / HOURS_PER_DAY), hour: key % HOURS_PER_DAY, count }));
}

/** A square for each hour of the week, its area by how much went wrong; the number stands in it where there is room. */
export function weekGrid(cells: readonly WeekCell[], clock: LocalClock, breadth: Breadth): Sheet {
  const { cell, row, left, hourEvery } = measures[breadth];
  const most = Math.max(1, ...cells.map(({ count }) => count));
  const squares = cells.map(({ day, hour, count }) => {
    const half = (Math.sqrt(count / most) * (cell - 2)) / 2;
    const [x, y] = [left + (hour + 0.5) * cell, (day + 0.5) * row];
    return { x: x - half, x2: x + half, y: y - half, y2: y + half, cx: x, cy: y, label: String(count), roomy: half > 8 };
  });
  const width = left + HOURS_PER_DAY * cell;
  const height = clock.weekdays.length * row;
  const lines = [
    ...clock.weekdays.map((_, day) => ({ x: left, x2: width, y: (day + 1) * row, y2: (day + 1) * row })),
    ...Array.from({ length: HOURS_PER_DAY / hourEvery + 1 }, (_, index) => ({
      x: left + index * hourEvery * cell,
      x2: left + index * hourEvery * cell,
      y: 0,
      y2: height + 4,
    })),
  ];
  const hours = Array.from({ length: HOURS_PER_DAY / hourEvery }, (_, index) => ({
    x: left + index * hourEvery * cell,
    y: height + 8,
    label: `${String(index * hourEvery).padStart(2, "0")}:00`,
  }));
  return {
    width,
    height,
    margin: { side: 1, top: 2, bottom: 26 },
    layers: [
      { mark: "rule", rows: lines, look: { stroke: palette.hair } },
      {
        mark: "text",
        rows: clock.weekdays.map((label, day) => ({ x: 0, y: (day + 0.5) * row, label: breadth === "wide" ? label.long : label.short })),
        look: { fill: palette.ink },
      },
      { mark: "text", baseline: "top", rows: hours, look: { fill: palette.soft } },
      { mark: "rect", rows: squares, look: { fill: palette.wash, stroke: palette.signal, "stroke-width": 1.5 } },
      {
        mark: "text",
        rows: squares.filter(({ roomy }) => roomy).map(({ cx, cy, label }) => ({ x: cx, y: cy, label })),
        look: { fill: palette.ink, "text-anchor": "middle" },
      },
    ],
  };
}
