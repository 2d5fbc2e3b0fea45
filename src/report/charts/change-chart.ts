import type { TopLevelSpec } from "vega-lite";
import type { Findings } from "../../result/schema.js";
import { amountText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { boxes, marks, type PlacedSpan, rules, texts, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, palette, theme } from "./theme.js";
import { DAY_MS } from "../../ground/units.js";

/** One quantity of one signal from day to day. */
export type Change = Findings["changes"][number];

const HEIGHT_PX = 150;
const HEAD_PX = 20;
const FOOT_PX = 22;
const CENTIMETRES = 100;
const measures: Readonly<Record<Breadth, { left: number; right: number; dated: number }>> = { wide: { left: 70, right: 90, dated: 5 }, narrow: { left: 44, right: 56, dated: 2 } };
const unitWords: Readonly<Record<Change["unit"], string>> = { metres: "cm", seconds: "s", share: "share" };

/**
 * A point a day against the control limits (shaded) and their centre; those outside are diamonds. A dashed line at the
 * day from which it was different, and the level before and after it. Null where there are no points or no limits.
 */
export function changeChart(change: Change, clock: LocalClock, breadth: Breadth): TopLevelSpec | null {
  const { chart, unit } = change;
  const factor = unit === "metres" ? CENTIMETRES : 1;
  const points = change.points.map(([instant, value]) => ({ at: instant, value: value * factor }));
  const [first, last] = [points[0]?.at, points.at(-1)?.at];
  if (chart === null || first === undefined || last === undefined) return null;
  const { left, right, dated } = measures[breadth];
  const width = chartWidthPx[breadth];
  const levels = [chart.low, chart.high, chart.centre, change.before ?? chart.centre, change.after ?? chart.centre].map((level) => level * factor);
  const all = [...levels, ...points.map(({ value }) => value)];
  const [lowest, highest] = [Math.min(...all), Math.max(...all)];
  const bottom = HEAD_PX + HEIGHT_PX;
  const yOf = (value: number): number => bottom - 6 - ((value - lowest) / (highest - lowest || 1)) * (HEIGHT_PX - 12);
  const end = width - right;
  const xOf = (instant: number): number => left + 6 + ((instant - first) / Math.max(DAY_MS, last - first)) * (end - left - 12);
  const since = change.since === null ? null : change.since;
  const out = ({ value }: { value: number }): boolean => value < chart.low * factor || value > chart.high * factor;
  const place = ({ at, value }: { at: number; value: number }): { x: number; y: number } => ({ x: xOf(at), y: yOf(value) });
  const level = (value: number | null, x: number, x2: number): PlacedSpan[] => (value === null ? [] : [{ x, x2, y: yOf(value * factor), y2: yOf(value * factor) }]);
  const days = Math.max(1, Math.min(dated, points.length) - 1);
  const dates = Array.from({ length: days + 1 }, (_, index) => points[Math.round((index / days) * (points.length - 1))]?.at ?? first).map((at, index) => ({
    x: index === 0 ? left : index === days ? end : xOf(at),
    y: bottom + 8,
    label: shortDay(clock.day(at)),
  }));
  const split = since === null ? end : Math.min(end, Math.max(left, xOf(since) - 3));
  const named = [
    { label: "high", value: chart.high },
    { label: "low", value: chart.low },
  ].filter(({ value }, index, list) => index === 0 || Math.abs(yOf(value * factor) - yOf((list[0]?.value ?? 0) * factor)) > 14);
  return {
    autosize: "none",
    padding: 0,
    width,
    height: bottom + FOOT_PX,
    config: theme,
    layer: withContent([
      boxes([{ x: left, x2: end, y: yOf(chart.high * factor), y2: yOf(chart.low * factor) }], { fill: palette.wash }),
      rules(level(chart.centre, left, end), { color: palette.soft }),
      texts(named.map(({ label, value }) => ({ x: end + 6, y: yOf(value * factor), label: breadth === "wide" ? `${label} limit` : label })), { align: "left", baseline: "middle", color: palette.soft }),
      rules([...level(change.before, left, split), ...level(change.after, split, end)], { color: palette.signal, strokeWidth: 2, strokeDash: [8, 3] }),
      rules(since === null ? [] : [{ x: split, x2: split, y: HEAD_PX - 4, y2: bottom }], { color: palette.breaks, strokeWidth: 1.5, strokeDash: [3, 3] }),
      texts(since === null ? [] : [{ x: split > width / 2 ? split - 5 : split + 5, y: HEAD_PX - 9, label: `since ${clock.day(since)}` }], { align: split > width / 2 ? "right" : "left", baseline: "middle", color: palette.breaks }),
      marks(points.filter((point) => !out(point)).map(place), "circle", 40, { color: palette.signal }),
      marks(points.filter(out).map(place), "diamond", 95, { color: palette.breaks }),
      rules([{ x: left, x2: left, y: HEAD_PX, y2: bottom }, { x: left, x2: end, y: bottom, y2: bottom }], { color: palette.soft }),
      texts([highest, lowest].map((value) => ({ x: left - 6, y: yOf(value), label: amountText(value) })), { align: "right", baseline: "middle", color: palette.soft }),
      texts([{ x: left - 6, y: HEAD_PX + HEIGHT_PX / 2, label: unitWords[unit] }], { align: "right", baseline: "middle", color: palette.soft }),
      texts(dates.slice(0, 1), { align: "left", baseline: "top", color: palette.soft }),
      texts(dates.slice(1, -1), { align: "center", baseline: "top", color: palette.soft }),
      texts(dates.slice(1).slice(-1), { align: "right", baseline: "top", color: palette.soft }),
    ]),
  };
}

/** `Sun 25 Oct 2026` without its year. */
function shortDay(day: string): string {
  return day.replace(/ \d{4}$/, "");
}
