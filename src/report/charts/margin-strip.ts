import type { TopLevelSpec } from "vega-lite";
import type { RuleFinding } from "../../result/schema.js";
import { lengthText } from "../format.js";
import { boxes, rules, texts, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, palette, theme } from "./theme.js";
import { HOUR_SECONDS } from "../../ground/units.js";

/** Hours in which so many signals would have had to read differently; null: nothing they could say would have been enough. */
export type MarginHours = RuleFinding["margin"]["hoursAtWhileWrong"];

/** One row of the strip. */
export interface MarginRow {
  readonly label: string;
  readonly hours: number;
  /** `held`: the condition was so; `one`: one signal away; `more`: further. */
  readonly closeness: "held" | "one" | "more";
}

const ROW_PX = 24;
const BAR_PX = 14;
const HEAD_PX = 4;
const FOOT_PX = 40;
/** Further away than this, margins are put together: nobody decides by them. Our own choice. */
const MOST_APART = 8;
/** Below about so many hours the axis is linear, beyond it logarithmic. */
const LINEAR_HOURS = 0.1;
const TICKS_HOURS: readonly (readonly [number, string])[] = [[0, "0"], [LINEAR_HOURS, "6 min"], [1, "1 h"], [10, "10 h"], [100, "100 h"], [1000, "1000 h"]];
const measures: Readonly<Record<Breadth, { left: number; right: number }>> = { wide: { left: 170, right: 110 }, narrow: { left: 84, right: 86 } };
const looks: Readonly<Record<MarginRow["closeness"], { fill: string; stroke: string; strokeWidth: number; strokeDash?: number[] }>> = {
  held: { fill: palette.breaks, stroke: palette.breaks, strokeWidth: 1.5 },
  one: { fill: palette.paper, stroke: palette.open, strokeWidth: 2.5, strokeDash: [5, 2] },
  more: { fill: palette.wash, stroke: palette.signal, strokeWidth: 1 },
};

/** The rows: nearest first, what is far away put together, out of reach last. Margins at which no time was spent are left out, but for 0 and 1. */
export function marginRows(hoursAt: MarginHours): MarginRow[] {
  const at = (wanted: number): number => hoursAt.filter(([margin]) => margin === wanted).reduce((sum, [, hours]) => sum + hours, 0);
  const between = Array.from({ length: MOST_APART - 2 }, (_, index) => index + 2);
  const far = hoursAt.filter(([margin]) => margin !== null && margin >= MOST_APART).reduce((sum, [, hours]) => sum + hours, 0);
  const never = hoursAt.filter(([margin]) => margin === null).reduce((sum, [, hours]) => sum + hours, 0);
  const further: MarginRow[] = [
    ...between.map((margin) => ({ label: `${margin} away`, hours: at(margin), closeness: "more" as const })),
    { label: `${MOST_APART} or more`, hours: far, closeness: "more" },
    { label: "out of reach", hours: never, closeness: "more" },
  ];
  return [{ label: "condition held", hours: at(0), closeness: "held" }, { label: "1 away", hours: at(1), closeness: "one" }, ...further.filter(({ hours }) => hours > 0)];
}

/**
 * A bar a margin: the hours spent at it while firing would have been wrong, with the length in words. Full: the condition
 * held; dashed outline: one signal away; thin outline: further. The axis closes up, since minutes at 1 matter beside weeks at 5.
 */
export function marginStrip(hoursAt: MarginHours, breadth: Breadth): TopLevelSpec {
  const rows = marginRows(hoursAt);
  const { left, right } = measures[breadth];
  const width = chartWidthPx[breadth];
  const most = Math.max(1, ...rows.map(({ hours }) => hours));
  const xOf = (hours: number): number => left + (Math.log1p(hours / LINEAR_HOURS) / Math.log1p(most / LINEAR_HOURS)) * (width - left - right);
  const bottom = HEAD_PX + rows.length * ROW_PX;
  const middle = (index: number): number => HEAD_PX + (index + 0.5) * ROW_PX;
  const bars = (closeness: MarginRow["closeness"]) =>
    rows.flatMap((row, index) => (row.closeness === closeness && row.hours > 0 ? [{ x: left, x2: Math.max(left + 2, xOf(row.hours)), y: middle(index) - BAR_PX / 2, y2: middle(index) + BAR_PX / 2 }] : []));
  const ticks = TICKS_HOURS.filter(([hours]) => hours <= most && (breadth === "wide" || hours !== LINEAR_HOURS));
  return {
    autosize: "none",
    padding: 0,
    width,
    height: bottom + FOOT_PX,
    config: theme,
    layer: withContent([
      rules(ticks.map(([hours]) => ({ x: xOf(hours), x2: xOf(hours), y: HEAD_PX, y2: bottom + 4 })), { color: palette.hair }),
      ...(["more", "one", "held"] as const).map((closeness) => boxes(bars(closeness), looks[closeness])),
      rules([{ x: left, x2: left, y: HEAD_PX, y2: bottom }], { color: palette.soft }),
      texts(rows.map(({ label }, index) => ({ x: 0, y: middle(index), label })), { align: "left", baseline: "middle", color: palette.ink }),
      texts(rows.map(({ hours }, index) => ({ x: Math.max(left, xOf(hours)) + 7, y: middle(index), label: hours === 0 ? "never" : lengthText(hours * HOUR_SECONDS) })), { align: "left", baseline: "middle", color: palette.ink }),
      texts(ticks.map(([hours, label]) => ({ x: xOf(hours), y: bottom + 8, label })), { align: "center", baseline: "top", color: palette.soft }),
      texts([{ x: left, y: bottom + 24, label: breadth === "wide" ? "time in which firing would have been wrong" : "time while wrong" }], { align: "left", baseline: "top", color: palette.soft }),
    ]),
  };
}
