import type { TopLevelSpec } from "vega-lite";
import type { RuleFinding } from "../../findings/schema.js";
import { shortened } from "../visible-text.js";
import { type Breadth, chartWidthPx, palette, theme } from "./theme.js";

type Drill = RuleFinding["drills"][number];

const measures: Readonly<Record<Breadth, { left: number; head: number; characters: number }>> = {
  wide: { left: 176, head: 34, characters: 24 },
  narrow: { left: 104, head: 92, characters: 14 },
};
const ROW_PX = 28;
const MOST_COLUMN_PX = 100;

/** A row a signal or shared cause, a column a fault: a full square where acting wrongly was added, a triangle where acting was missed. */
export function drillMatrix(drills: readonly Drill[], breadth: Breadth): TopLevelSpec {
  const { left, head, characters } = measures[breadth];
  const faults = [...new Set(drills.map(({ fault }) => fault))];
  const column = Math.min(MOST_COLUMN_PX, (chartWidthPx[breadth] - 2 - left) / faults.length);
  const targets = [...new Set(drills.map(({ on, name }) => `${on} ${name}`))];
  const placed = drills.map((drill) => ({ ...drill, x: left + (faults.indexOf(drill.fault) + 0.5) * column, y: head + (targets.indexOf(`${drill.on} ${drill.name}`) + 0.5) * ROW_PX }));
  const acted = placed.map((one) => ({ ...one, count: one.wrongGained + one.unverifiedGained }));
  const most = Math.max(1, ...acted.map(({ count }) => count), ...placed.map(({ missedGained }) => missedGained));
  const size = (count: number): number => (breadth === "wide" ? 40 : 25) + (count / most) * (breadth === "wide" ? 240 : 100);
  const px = (field: string) => ({ field, type: "quantitative" as const, scale: null, axis: null });
  const offset = column / 4.5;
  const text = (values: object[], look: object) => ({ data: { values }, mark: { type: "text" as const, baseline: "middle" as const, ...look }, encoding: { x: px("x"), y: px("y"), text: { field: "label", type: "nominal" as const } } });
  const shapes = (values: { x: number; y: number; size: number }[], shape: string, look: object) => ({
    data: { values },
    mark: { type: "point" as const, shape, opacity: 1, ...look },
    encoding: { x: px("x"), y: px("y"), size: { field: "size", type: "quantitative" as const, scale: null } },
  });
  const height = head + targets.length * ROW_PX;
  const width = left + faults.length * column;
  return {
    autosize: "none",
    padding: { left: 1, right: 1, top: 0, bottom: 4 },
    width,
    height,
    config: theme,
    layer: [
      { data: { values: targets.map((_, index) => ({ x: 0, x2: width, y: head + index * ROW_PX })) }, mark: { type: "rule", color: palette.hair }, encoding: { x: px("x"), x2: { field: "x2" }, y: px("y") } },
      text(faults.map((fault, index) => ({ x: left + (index + 0.5) * column, y: head - 12, label: fault.replace(" by ", " ") })), { ...(breadth === "wide" ? { align: "center" } : { align: "left", angle: 270 }), color: palette.soft }),
      text(targets.map((target, index) => ({ x: 0, y: head + (index + 0.5) * ROW_PX, label: shortened(target.replace(/^(?:signal|cause) /, ""), characters) })), { align: "left", color: palette.ink }),
      text(placed.filter((one) => one.wrongGained + one.unverifiedGained + one.missedGained === 0).map(({ x, y }) => ({ x, y, label: "–" })), { align: "center", color: palette.soft }),
      shapes(acted.filter(({ count }) => count > 0).map(({ x, y, count, missedGained }) => ({ x: missedGained > 0 ? x - offset : x, y, size: size(count) })), "square", { filled: true, color: palette.breaks }),
      shapes(acted.filter(({ missedGained }) => missedGained > 0).map(({ x, y, count, missedGained }) => ({ x: count > 0 ? x + offset : x, y, size: size(missedGained) })), "triangle-up", { filled: false, stroke: palette.open, strokeWidth: 2 }),
    ],
  };
}
