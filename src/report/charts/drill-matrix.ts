import { group } from "d3-array";
import type { RuleFinding } from "../../result/schema.js";
import { countText } from "../format.js";
import { shortened } from "../visible-text.js";
import type { Layer, Look, Shape, Sheet } from "./sheet.js";
import { type Breadth, chartWidthPx, palette } from "./theme.js";

type Drill = RuleFinding["drills"][number];
/** What a fault was put into, as a key: drills of one signal or one shared cause have the same. */
export function drilledPart({ on, name }: Pick<Drill, "on" | "name">): string {
  return `${on} ${name}`;
}

type Effect = "wrongGained" | "unverifiedGained" | "missedGained";

/** What a mark says by its shape; its size says how often, and on a wide page so does the number beside it. */
const shapes: readonly { readonly effect: Effect; readonly shape: Shape; readonly look: Look }[] = [
  { effect: "wrongGained", shape: "square", look: { fill: palette.breaks } },
  { effect: "unverifiedGained", shape: "square", look: { stroke: palette.breaks, "stroke-width": 1.5, "stroke-dasharray": "2,1.5" } },
  { effect: "missedGained", shape: "triangle-up", look: { stroke: palette.open, "stroke-width": 1.75 } },
];
const measures: Readonly<Record<Breadth, { left: number; head: number; characters: number; line: number; least: number; most: number }>> = {
  wide: { left: 176, head: 34, characters: 24, line: 16, least: 22, most: 110 },
  narrow: { left: 104, head: 92, characters: 14, line: 15, least: 18, most: 100 },
};
const ROW_SPARE_PX = 10;
const MOST_COLUMN_PX = 100;

/**
 * A row for each signal or shared cause, a column for each fault; within a cell a full square where acting wrongly
 * was added, a dashed one where acting was added that nobody can verify, a triangle where acting was missed; larger
 * for more. A heavier line separates signals from shared causes.
 */
export function drillMatrix(drills: readonly Drill[], breadth: Breadth): Sheet {
  const { left, head, characters, line, least, most } = measures[breadth];
  const faults = [...new Set(drills.map(({ fault }) => fault))];
  const column = Math.min(MOST_COLUMN_PX, (chartWidthPx[breadth] - 2 - left) / faults.length);
  const targets = [...group(drills, drilledPart).values()];
  const largest = Math.max(1, ...drills.flatMap((drill) => shapes.map(({ effect }) => drill[effect])));
  const rows = placedRows(targets, head, line);
  const causes = rows.filter(({ of }) => of[0]?.on === "cause").slice(0, 1);
  const cells = rows.flatMap(({ of, top, height }) =>
    of.map((drill) => {
      const shown = shapes.filter(({ effect }) => drill[effect] > 0);
      const x = left + (faults.indexOf(drill.fault) + 0.5) * column;
      const first = top + height / 2 - ((shown.length - 1) * line) / 2;
      const marks = shown.map(({ effect }, index) => ({
        effect,
        x: breadth === "wide" ? x - 11 : x,
        y: first + index * line,
        count: drill[effect],
        size: least + (drill[effect] / largest) * (most - least),
      }));
      return { x, middle: top + height / 2, marks };
    }),
  );
  const marked = cells.flatMap(({ marks }) => marks);
  const width = left + faults.length * column;
  const across = ({ top }: { top: number }) => ({ x: 0, x2: width, y: top, y2: top });
  return {
    width,
    height: (rows.at(-1)?.top ?? head) + (rows.at(-1)?.height ?? 0),
    margin: { side: 1, top: 0, bottom: 4 },
    layers: [
      { mark: "rule", rows: rows.map(across), look: { stroke: palette.hair } },
      { mark: "rule", rows: causes.map(across), look: { stroke: palette.soft, "stroke-width": 1.5 } },
      {
        mark: "text",
        rows: faults.map((fault, index) => ({ x: left + (index + 0.5) * column, y: head - 12, label: fault.replace(" by ", " ") })),
        look: { fill: palette.soft, ...(breadth === "wide" ? { "text-anchor": "middle" } : {}) },
        ...(breadth === "wide" ? {} : { upright: true }),
      },
      {
        mark: "text",
        rows: rows.map(({ of, top, height }) => ({ x: 0, y: top + height / 2, label: shortened(of[0]?.name ?? "", characters) })),
        look: { fill: palette.ink },
      },
      {
        mark: "text",
        rows: cells.filter(({ marks }) => marks.length === 0).map(({ x, middle }) => ({ x, y: middle, label: "–" })),
        look: { fill: palette.soft, "text-anchor": "middle" },
      },
      ...shapes.map(({ effect, shape, look }): Layer => ({
        mark: "point",
        shape,
        rows: marked.filter((mark) => mark.effect === effect),
        look,
      })),
      {
        mark: "text",
        rows: breadth === "wide" ? marked.map(({ x, y, count }) => ({ x: x + 10, y: y + 0.5, label: countText(count) })) : [],
        look: { fill: palette.ink },
      },
    ],
  };
}

/** Each row is as high as the cell with most marks needs. */
function placedRows(
  targets: readonly (readonly Drill[])[],
  head: number,
  line: number,
): { of: readonly Drill[]; top: number; height: number }[] {
  let top = head;
  return targets.map((of) => {
    const height = line * Math.max(1, ...of.map((drill) => shapes.filter(({ effect }) => drill[effect] > 0).length)) + ROW_SPARE_PX;
    top += height;
    return { of, top: top - height, height };
  });
}
