import { extent } from "d3-array";
import { DAY_MS } from "../../ground/units.js";
import type { Findings } from "../../result/schema.js";
import { amountText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import type { Look, PlacedSpan, Sheet } from "./sheet.js";
import { type Breadth, chartWidthPx, palette } from "./theme.js";

/** One quantity of one signal from day to day. */
export type Change = Findings["changes"][number];

const HEIGHT_PX = 150;
const HEAD_PX = 20;
const FOOT_PX = 22;
const CENTIMETRES = 100;
const measures: Readonly<Record<Breadth, { left: number; right: number; dated: number }>> = {
  wide: { left: 70, right: 90, dated: 5 },
  narrow: { left: 44, right: 56, dated: 2 },
};
const unitWords: Readonly<Record<Change["unit"], string>> = { metres: "cm", seconds: "s", share: "share" };

/**
 * A point for each day against the control limits (shaded) and their centre; those outside are diamonds. A dashed
 * line at the day from which it was different, and the level before and after it. Null where there are no points or
 * no limits.
 */
export function changeChart(change: Change, clock: LocalClock, breadth: Breadth): Sheet | null {
  const { chart, unit } = change;
  const factor = unit === "metres" ? CENTIMETRES : 1;
  const points = change.points.map(([instant, value]) => ({ at: instant, value: value * factor }));
  const [first, last] = [points[0]?.at, points.at(-1)?.at];
  if (chart === null || first === undefined || last === undefined) return null;
  const { left, right, dated } = measures[breadth];
  const width = chartWidthPx[breadth];
  const levels = [chart.low, chart.high, chart.centre, change.before ?? chart.centre, change.after ?? chart.centre].map(
    (level) => level * factor,
  );
  const [lowest = 0, highest = 0] = extent([...levels, ...points.map(({ value }) => value)]);
  const bottom = HEAD_PX + HEIGHT_PX;
  const yOf = (value: number): number => bottom - 6 - ((value - lowest) / (highest - lowest || 1)) * (HEIGHT_PX - 12);
  const end = width - right;
  const xOf = (instant: number): number => left + 6 + ((instant - first) / Math.max(DAY_MS, last - first)) * (end - left - 12);
  const since = change.since === null ? null : change.since;
  const out = ({ value }: { value: number }): boolean => value < chart.low * factor || value > chart.high * factor;
  const place = ({ at, value }: { at: number; value: number }) => ({ x: xOf(at), y: yOf(value) });
  const level = (value: number | null, x: number, x2: number): PlacedSpan[] =>
    value === null ? [] : [{ x, x2, y: yOf(value * factor), y2: yOf(value * factor) }];
  const days = Math.max(1, Math.min(dated, points.length) - 1);
  const dates = Array.from({ length: days + 1 }, (_, index) => points[Math.round((index / days) * (points.length - 1))]?.at ?? first).map(
    (at, index) => ({
      x: index === 0 ? left : index === days ? end : xOf(at),
      y: bottom + 8,
      label: shortDay(clock.day(at)),
    }),
  );
  const split = since === null ? end : Math.min(end, Math.max(left, xOf(since) - 3));
  const named = [
    { label: "high", value: chart.high },
    { label: "low", value: chart.low },
  ].filter(({ value }, index, list) => index === 0 || Math.abs(yOf(value * factor) - yOf((list[0]?.value ?? 0) * factor)) > 14);
  const soft: Look = { fill: palette.soft };
  const sinceLabel = {
    x: split > width / 2 ? split - 5 : split + 5,
    y: HEAD_PX - 9,
    label: since === null ? "" : `since ${clock.day(since)}`,
  };
  return {
    width,
    height: bottom + FOOT_PX,
    layers: [
      {
        mark: "rect",
        rows: [{ x: left, x2: end, y: yOf(chart.high * factor), y2: yOf(chart.low * factor) }],
        look: { fill: palette.wash },
      },
      { mark: "rule", rows: level(chart.centre, left, end), look: { stroke: palette.soft } },
      {
        mark: "text",
        rows: named.map(({ label, value }) => ({
          x: end + 6,
          y: yOf(value * factor),
          label: breadth === "wide" ? `${label} limit` : label,
        })),
        look: soft,
      },
      {
        mark: "rule",
        rows: [...level(change.before, left, split), ...level(change.after, split, end)],
        look: { stroke: palette.signal, "stroke-width": 2, "stroke-dasharray": "8,3" },
      },
      {
        mark: "rule",
        rows: since === null ? [] : [{ x: split, x2: split, y: HEAD_PX - 4, y2: bottom }],
        look: { stroke: palette.breaks, "stroke-width": 1.5, "stroke-dasharray": "3,3" },
      },
      {
        mark: "text",
        rows: since === null ? [] : [sinceLabel],
        look: { fill: palette.breaks, "text-anchor": split > width / 2 ? "end" : "start" },
      },
      { mark: "point", shape: "circle", size: 40, rows: points.filter((point) => !out(point)).map(place), look: { fill: palette.signal } },
      { mark: "point", shape: "diamond", size: 95, rows: points.filter(out).map(place), look: { fill: palette.breaks } },
      {
        mark: "rule",
        rows: [
          { x: left, x2: left, y: HEAD_PX, y2: bottom },
          { x: left, x2: end, y: bottom, y2: bottom },
        ],
        look: { stroke: palette.soft },
      },
      {
        mark: "text",
        rows: [highest, lowest].map((value) => ({ x: left - 6, y: yOf(value), label: amountText(value) })),
        look: { ...soft, "text-anchor": "end" },
      },
      {
        mark: "text",
        rows: [{ x: left - 6, y: HEAD_PX + HEIGHT_PX / 2, label: unitWords[unit] }],
        look: { ...soft, "text-anchor": "end" },
      },
      { mark: "text", baseline: "top", rows: dates.slice(0, 1), look: soft },
      { mark: "text", baseline: "top", rows: dates.slice(1, -1), look: { ...soft, "text-anchor": "middle" } },
      { mark: "text", baseline: "top", rows: dates.slice(1).slice(-1), look: { ...soft, "text-anchor": "end" } },
    ],
  };
}

/** `Sun 25 Oct 2026` without its year. */
function shortDay(day: string): string {
  return day.replace(/ \d{4}$/, "");
}
