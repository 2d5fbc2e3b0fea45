import type { TopLevelSpec } from "vega-lite";
import type { BayScore } from "../../result/schema.js";
import { layer, quantity } from "./layers.js";
import { ROW_PX, rowEncoding, rowKey } from "./rows.js";
import { type Breadth, frame, palette, theme } from "./theme.js";

/**
 * A row for each bay: how many faults it had (dot), how many are typical for the other bays (tick) and the control
 * limits (bar). A bay that stands out has a diamond and the words beside it.
 */
export function bayControl(bays: readonly BayScore[], breadth: Breadth): TopLevelSpec {
  const values = bays.map(({ bay, faults }, index) => ({
    row: rowKey(index, bay, breadth),
    count: faults.count,
    expected: faults.expected,
    low: faults.controlLow,
    high: faults.controlHigh,
    out: faults.standsOut,
  }));
  const most = Math.max(1, ...values.flatMap((row) => [row.count, row.high ?? 0, row.expected ?? 0]));
  const scale = { domain: [0, most * 1.02], nice: true, zero: true };
  const axis = {
    tickCount: breadth === "wide" ? 6 : 3,
    grid: false,
    title: "faults: missed and phantom transitions",
    format: "d",
    tickMinStep: 1,
  };
  const y = rowEncoding(breadth);
  const limited = values.filter((row) => row.low !== null && row.high !== null);
  const out = values.filter((row) => row.out);
  return {
    ...frame(breadth, 4),
    height: ROW_PX * values.length,
    config: theme,
    data: { values },
    layer: [
      { mark: { type: "point", opacity: 0 }, encoding: { y, x: { ...quantity("count"), scale, axis } } },
      layer(
        limited,
        { type: "bar", height: 12, fill: palette.wash, stroke: palette.soft, strokeWidth: 1 },
        { y, x: { ...quantity("low"), stack: null }, x2: { field: "high" } },
      ),
      layer(
        limited.filter((row) => row.expected !== null),
        { type: "tick", color: palette.soft, size: 12, thickness: 2 },
        { y, x: quantity("expected") },
      ),
      layer(
        values.filter((row) => !row.out),
        { type: "point", shape: "circle", filled: true, color: palette.signal, size: 75, opacity: 1 },
        { y, x: quantity("count") },
      ),
      layer(
        out,
        { type: "point", shape: "diamond", filled: true, color: palette.breaks, size: 150, opacity: 1 },
        { y, x: quantity("count") },
      ),
      layer(
        out,
        { type: "text", text: "stands out", align: "right", dx: -10, dy: -1, fontWeight: "bold", color: palette.breaks },
        { y, x: quantity("count") },
      ),
    ],
  };
}
