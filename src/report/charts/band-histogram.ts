import { sum } from "d3-array";
import type { TopLevelSpec } from "vega-lite";
import type { Findings } from "../../result/schema.js";
import { labelText, type Layer, layer, quantity, withContent } from "./layers.js";
import { type Breadth, frame, palette, theme } from "./theme.js";

type Band = Findings["bands"][number];

const HEIGHT_PX = 92;
const LINE_PX = 15;
/** Bars narrower than this cannot be told apart; neighbouring bins are put together. */
const LEAST_BAR_PX = 3;

/**
 * The readings of a distance signal by distance, in centimetres. The present band is shaded, the suggested one
 * outlined in dashes. Above them stand the places where it reads when occupied, when empty, and where else it rests.
 */
export function bandHistogram(band: Band, breadth: Breadth): TopLevelSpec | null {
  const { histogram, present, suggested } = band;
  if (histogram === null || histogram.counts.every((count) => count === 0)) return null;
  const outer = frame(breadth, 0);
  const joined = Math.max(1, Math.ceil(histogram.counts.length / (outer.width / LEAST_BAR_PX)));
  const bars = Array.from({ length: Math.ceil(histogram.counts.length / joined) }, (_, index) => ({
    x: 100 * (histogram.from + index * joined * histogram.width),
    x2: 100 * (histogram.from + (index + 1) * joined * histogram.width),
    count: sum(histogram.counts.slice(index * joined, (index + 1) * joined)),
  })).filter(({ count }) => count > 0);
  const outlined =
    suggested === null || band.presentHolds === true ? [] : [{ x: 100 * suggested.nearMetres, x2: 100 * suggested.farMetres }];
  const first = Math.min(bars[0]?.x ?? 0, 100 * present.nearMetres, ...outlined.map((one) => one.x));
  const last = Math.max(bars.at(-1)?.x2 ?? 1, 100 * present.farMetres, ...outlined.map((one) => one.x2));
  const spare = (last - first) * 0.02;
  const x = {
    ...quantity("x"),
    scale: { domain: [first - spare, last + spare], nice: false, zero: false },
    axis: { tickCount: breadth === "wide" ? 8 : 4, grid: false, title: "distance, cm" },
  };
  // Roots, so that a handful of odd readings shows beside thousands of ordinary ones.
  const y = {
    ...quantity("count"),
    scale: { type: "sqrt" as const, zero: true, nice: true },
    axis: { tickCount: 2, grid: false, title: "readings", format: ",d", titleAnchor: "middle" as const },
  };
  const shaded = [{ x: 100 * present.nearMetres, x2: 100 * present.farMetres }];
  const middle = (first + last) / 2;
  const lines = headLines(band, outlined, middle);
  const atLine = (line: number) => ({ value: -LINE_PX * line - LINE_PX / 2 });
  return {
    ...frame(breadth, lines.length * LINE_PX + 4),
    height: HEIGHT_PX,
    config: theme,
    layer: withContent([
      layer(shaded, { type: "rect", fill: palette.wash }, { x, x2: { field: "x2" } }),
      layer(bars, { type: "rect", fill: palette.signal }, { x, x2: { field: "x2" }, y, y2: { datum: 0 } }),
      layer(
        outlined,
        { type: "rect", filled: false, stroke: palette.clear, strokeWidth: 1.5, strokeDash: [5, 3] },
        { x, x2: { field: "x2" } },
      ),
      ...lines.flatMap(({ values, shape, color }, line): Layer[] => [
        layer(
          values,
          { type: "point", shape: shape ?? "circle", filled: true, opacity: shape === null ? 0 : 1, size: 60, color },
          { x, y: atLine(line) },
        ),
        ...([1, -1] as const).map((side): Layer =>
          layer(
            values.filter((one) => (one.x > middle ? -1 : 1) === side),
            { type: "text", align: side === 1 ? "left" : "right", baseline: "middle", dx: shape === null ? 0 : 8 * side, color },
            { x, y: atLine(line), text: labelText },
          ),
        ),
      ]),
    ]),
  };
}

interface HeadLine {
  readonly values: { x: number; label: string }[];
  /** Null: words only. */
  readonly shape: string | null;
  readonly color: string;
}

/**
 * What stands above the bars, a line each so that no label covers another: the bands, and the places where the signal
 * rests.
 */
function headLines({ present, occupied, empty, otherModes }: Band, outlined: readonly { x: number }[], middle: number): HeadLine[] {
  const rests = otherModes.map(({ metres }) => 100 * metres).toSorted((a, b) => a - b);
  // Words run towards the middle: away from the other marks where those are all in one half.
  const told = rests.findLast((x) => x <= middle) ?? rests[0];
  const modes = [
    { mode: occupied, label: "occupied" },
    { mode: empty, label: "empty" },
  ];
  const lines: HeadLine[] = [
    { values: [{ x: 100 * present.nearMetres, label: "present band" }], shape: null, color: palette.soft },
    { values: outlined.slice(0, 1).map(({ x }) => ({ x, label: "suggested band" })), shape: null, color: palette.clear },
    { values: rests.map((x) => ({ x, label: x === told ? "rests here too" : "" })), shape: "diamond", color: palette.breaks },
    {
      values: modes.flatMap(({ mode, label }) => (mode === null ? [] : [{ x: 100 * mode.metres, label }])),
      shape: "triangle-down",
      color: palette.ink,
    },
  ];
  return lines.filter(({ values }) => values.length > 0);
}
