import type { TopLevelSpec } from "vega-lite";
import type { Findings } from "../../findings/schema.js";
import { type Breadth, frame, palette, theme } from "./theme.js";

type Band = Findings["bands"][number];

const HEIGHT_PX = 92;
/** Bars narrower than this cannot be told apart; neighbouring bins are put together. */
const LEAST_BAR_PX = 3;

/** The readings of a distance signal by distance, in centimetres; the present band shaded, the suggested one outlined in dashes below. */
export function bandHistogram(band: Band, breadth: Breadth): TopLevelSpec | null {
  const { histogram, present, suggested } = band;
  if (histogram === null || histogram.counts.every((count) => count === 0)) return null;
  const outer = frame(breadth, 14);
  const joined = Math.max(1, Math.ceil(histogram.counts.length / (outer.width / LEAST_BAR_PX)));
  const bars = Array.from({ length: Math.ceil(histogram.counts.length / joined) }, (_, index) => ({
    x: 100 * (histogram.from + index * joined * histogram.width),
    x2: 100 * (histogram.from + (index + 1) * joined * histogram.width),
    count: histogram.counts.slice(index * joined, (index + 1) * joined).reduce((sum, count) => sum + count, 0),
  })).filter(({ count }) => count > 0);
  const outlined = suggested === null || band.presentHolds === true ? [] : [{ x: 100 * suggested.nearMetres, x2: 100 * suggested.farMetres }];
  const first = Math.min(bars[0]?.x ?? 0, 100 * present.nearMetres, ...outlined.map((one) => one.x));
  const last = Math.max(bars.at(-1)?.x2 ?? 1, 100 * present.farMetres, ...outlined.map((one) => one.x2));
  const spare = (last - first) * 0.02;
  const x = { field: "x", type: "quantitative" as const, scale: { domain: [first - spare, last + spare], nice: false, zero: false }, axis: { tickCount: breadth === "wide" ? 8 : 4, grid: false, title: "distance, cm" } };
  // Roots, so that a handful of odd readings shows beside thousands of ordinary ones.
  const y = { field: "count", type: "quantitative" as const, scale: { type: "sqrt" as const, zero: true, nice: true }, axis: { tickCount: 2, grid: false, title: "readings", format: ",d", titleAnchor: "middle" as const } };
  const shaded = [{ x: 100 * present.nearMetres, x2: 100 * present.farMetres, label: "present" }];
  return {
    ...outer,
    height: HEIGHT_PX,
    config: theme,
    layer: [
      { data: { values: shaded }, mark: { type: "rect", fill: palette.wash }, encoding: { x, x2: { field: "x2" } } },
      { data: { values: shaded }, mark: { type: "text", align: "left", baseline: "bottom", dy: -2, color: palette.soft }, encoding: { x, y: { value: 0 }, text: { field: "label", type: "nominal" } } },
      { data: { values: bars }, mark: { type: "rect", fill: palette.signal }, encoding: { x, x2: { field: "x2" }, y, y2: { datum: 0 } } },
      { data: { values: outlined }, mark: { type: "rect", filled: false, stroke: palette.clear, strokeWidth: 1.5, strokeDash: [5, 3] }, encoding: { x, x2: { field: "x2" } } },
    ],
  };
}
