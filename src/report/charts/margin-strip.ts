import { sum } from "d3-array";
import { HOUR_SECONDS } from "../../ground/units.js";
import type { RuleFinding } from "../../result/schema.js";
import { lengthText } from "../format.js";
import type { Layer, Look, PlacedSpan, Sheet } from "./sheet.js";
import { type Breadth, chartWidthPx, palette } from "./theme.js";

/**
 * A margin (how many signals would have had to read differently; null: no number of them) with the hours spent at it.
 */
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
/** The axis is linear below about these hours, logarithmic beyond. */
const LINEAR_HOURS = 0.1;
const TICKS_HOURS: readonly (readonly [number, string])[] = [
  [0, "0"],
  [LINEAR_HOURS, "6 min"],
  [1, "1 h"],
  [10, "10 h"],
  [100, "100 h"],
  [1000, "1000 h"],
];
const measures: Readonly<Record<Breadth, { left: number; right: number }>> = {
  wide: { left: 170, right: 110 },
  narrow: { left: 84, right: 86 },
};
const looks: Readonly<Record<MarginRow["closeness"], Look>> = {
  held: { fill: palette.breaks, stroke: palette.breaks, "stroke-width": 1.5 },
  one: { fill: palette.paper, stroke: palette.open, "stroke-width": 2.5, "stroke-dasharray": "5,2" },
  more: { fill: palette.wash, stroke: palette.signal, "stroke-width": 1 },
};

/**
 * The rows: nearest first, far margins put together, out of reach last. Margins with no time are left out, except 0
 * and 1.
 */
export function marginRows(hoursAt: MarginHours): MarginRow[] {
  const hours = (of: (margin: number | null) => boolean): number => sum(hoursAt, ([margin, spent]) => (of(margin) ? spent : 0));
  const between = Array.from({ length: MOST_APART - 2 }, (_, index) => index + 2);
  const further: MarginRow[] = [
    ...between.map((margin) => ({ label: `${margin} away`, hours: hours((at) => at === margin), closeness: "more" as const })),
    { label: `${MOST_APART} or more`, hours: hours((at) => at !== null && at >= MOST_APART), closeness: "more" },
    { label: "out of reach", hours: hours((at) => at === null), closeness: "more" },
  ];
  return [
    { label: "condition held", hours: hours((at) => at === 0), closeness: "held" },
    { label: "1 away", hours: hours((at) => at === 1), closeness: "one" },
    ...further.filter((row) => row.hours > 0),
  ];
}

/**
 * A bar for each margin: the hours spent at it while firing would have been wrong, with the length in words. Full:
 * the condition held; dashed outline: one signal away; thin outline: further. The axis is logarithmic, since minutes
 * at 1 matter beside weeks at 5.
 */
export function marginStrip(hoursAt: MarginHours, breadth: Breadth): Sheet {
  const rows = marginRows(hoursAt);
  const { left, right } = measures[breadth];
  const width = chartWidthPx[breadth];
  const most = Math.max(1, ...rows.map(({ hours }) => hours));
  const xOf = (hours: number): number =>
    left + (Math.log1p(hours / LINEAR_HOURS) / Math.log1p(most / LINEAR_HOURS)) * (width - left - right);
  const bottom = HEAD_PX + rows.length * ROW_PX;
  const middle = (index: number): number => HEAD_PX + (index + 0.5) * ROW_PX;
  const bar = ({ hours }: MarginRow, index: number): PlacedSpan => ({
    x: left,
    x2: Math.max(left + 2, xOf(hours)),
    y: middle(index) - BAR_PX / 2,
    y2: middle(index) + BAR_PX / 2,
  });
  const bars = (closeness: MarginRow["closeness"]): Layer => ({
    mark: "rect",
    rows: rows.flatMap((row, index) => (row.closeness === closeness && row.hours > 0 ? [bar(row, index)] : [])),
    look: looks[closeness],
  });
  const ticks = TICKS_HOURS.filter(([hours]) => hours <= most && (breadth === "wide" || hours !== LINEAR_HOURS));
  const labels: Look = { fill: palette.ink };
  const marked: Look = { fill: palette.soft };
  return {
    width,
    height: bottom + FOOT_PX,
    layers: [
      {
        mark: "rule",
        rows: ticks.map(([hours]) => ({ x: xOf(hours), x2: xOf(hours), y: HEAD_PX, y2: bottom + 4 })),
        look: { stroke: palette.hair },
      },
      bars("more"),
      bars("one"),
      bars("held"),
      { mark: "rule", rows: [{ x: left, x2: left, y: HEAD_PX, y2: bottom }], look: { stroke: palette.soft } },
      { mark: "text", rows: rows.map(({ label }, index) => ({ x: 0, y: middle(index), label })), look: labels },
      {
        mark: "text",
        rows: rows.map(({ hours }, index) => ({
          x: Math.max(left, xOf(hours)) + 7,
          y: middle(index),
          label: hours === 0 ? "never" : lengthText(hours * HOUR_SECONDS),
        })),
        look: labels,
      },
      {
        mark: "text",
        baseline: "top",
        rows: ticks.map(([hours, label]) => ({ x: xOf(hours), y: bottom + 8, label })),
        look: { ...marked, "text-anchor": "middle" },
      },
      {
        mark: "text",
        baseline: "top",
        rows: [{ x: left, y: bottom + 24, label: breadth === "wide" ? "time in which firing would have been wrong" : "time while wrong" }],
        look: marked,
      },
    ],
  };
}
