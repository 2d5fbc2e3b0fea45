import type { TopLevelSpec } from "vega-lite";
import type { SignalScore } from "../../result/schema.js";
import { layer, quantity } from "./layers.js";
import { ROW_PX, rowEncoding, rowKey } from "./rows.js";
import { type Breadth, frame, palette, theme } from "./theme.js";

const DOMAIN_STEP = 0.05;

/** Where the axis begins: the lowest bound shown, rounded down to a twentieth. Not 0, and the caption says so. */
export function agreementAxisStart(signals: readonly SignalScore[]): number {
  const lows = signals.map((signal) => signal.agreement.low ?? signal.agreement.value).filter((low) => low !== null);
  const lowest = Math.min(1, ...lows);
  return Math.max(0, Math.round(Math.floor((lowest - 1e-9) / DOMAIN_STEP)) / (1 / DOMAIN_STEP));
}

/**
 * A dot for each signal, the share of time it agreed, with its interval; signals without a value keep their row and
 * say so.
 */
export function agreementDots(signals: readonly SignalScore[], breadth: Breadth): TopLevelSpec {
  const start = agreementAxisStart(signals);
  const values = signals.map((signal, index) => {
    const { value, low, high } = signal.agreement;
    return { row: rowKey(index, signal.signal, breadth), value, low: low ?? value, high: high ?? value };
  });
  const scale = { domain: [start, 1], nice: false, zero: false };
  const axis = { tickCount: breadth === "wide" ? 6 : 3, grid: false, title: "share of time agreeing" };
  const y = rowEncoding(breadth);
  const shown = values.filter((row) => row.value !== null);
  return {
    ...frame(breadth, 4),
    height: ROW_PX * values.length,
    config: theme,
    data: { values },
    layer: [
      {
        mark: { type: "rule", color: palette.signal, strokeWidth: 2 },
        encoding: { y, x: { ...quantity("low"), scale, axis }, x2: { field: "high" } },
      },
      layer(shown, { type: "tick", color: palette.signal, size: 9, thickness: 2 }, { y, x: quantity("low") }),
      layer(shown, { type: "tick", color: palette.signal, size: 9, thickness: 2 }, { y, x: quantity("high") }),
      layer(shown, { type: "point", filled: true, color: palette.signal, size: 75, opacity: 1 }, { y, x: quantity("value") }),
      layer(
        values.filter((row) => row.value === null),
        { type: "text", text: "no value", align: "left", dx: 6, dy: -6, color: palette.soft },
        { y, x: { datum: start, type: "quantitative" } },
      ),
    ],
  };
}
