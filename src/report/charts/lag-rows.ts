import { bisectRight } from "d3-array";
import type { TopLevelSpec } from "vega-lite";
import { layer, quantity } from "./layers.js";
import { rowEncoding, rowKey } from "./rows.js";
import { type Breadth, frame, palette, theme } from "./theme.js";
import type { Episode } from "../../result/episodes.js";

/** Every lag of one signal, seconds; positive: the signal turned after the reference. */
export interface SignalLags {
  readonly signal: string;
  readonly seconds: readonly number[];
}

/**
 * Edges of the bins in seconds. They widen outwards, and the axis gives each the same room: seconds matter near 0,
 * minutes far from it. Our own choice. Public so that tests can trace each bar back to the lags in its bin.
 */
export const lagEdges = [-600, -300, -120, -60, -30, -15, -5, 5, 15, 30, 60, 120, 300, 600] as const;
const edgeLabels: Readonly<Record<Breadth, ReadonlyMap<number, string>>> = {
  wide: new Map([
    [-600, "−10 min"],
    [-120, "−2 min"],
    [-30, "−30 s"],
    [-5, "−5 s"],
    [5, "5 s"],
    [30, "30 s"],
    [120, "2 min"],
    [600, "10 min"],
  ]),
  narrow: new Map([
    [-120, "−2 min"],
    [5, "5 s"],
    [120, "2 min"],
  ]),
};
const ROW_PX = 38;
const BAR_PX = 26;

/** The lags of each signal, over all episodes, signals in the given order. */
export function lagsBySignal(signals: readonly string[], episodes: readonly Episode[]): SignalLags[] {
  const lags = new Map<string, number[]>(signals.map((signal) => [signal, []]));
  for (const { participants } of episodes) {
    for (const { signal, lagSeconds } of participants) if (lagSeconds !== null) lags.get(signal)?.push(lagSeconds);
  }
  return [...lags].map(([signal, seconds]) => ({ signal, seconds })).filter(({ seconds }) => seconds.length > 0);
}

/** How many lags fall into each bin: below the first edge, between edges, from the last edge on. */
function lagCounts(seconds: readonly number[]): number[] {
  const counts = new Array<number>(lagEdges.length + 1).fill(0);
  for (const lag of seconds) {
    const bin = bisectRight(lagEdges, lag);
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  return counts;
}

/**
 * A row for each signal: how its lags are spread, bars against the largest of the row; 0 is marked through all rows.
 */
export function lagRows(lags: readonly SignalLags[], breadth: Breadth): TopLevelSpec {
  const values = lags.flatMap(({ signal, seconds }, row) => {
    const counts = lagCounts(seconds);
    const most = Math.max(1, ...counts);
    return counts.flatMap((count, bin) =>
      count === 0
        ? []
        : [
            {
              row: rowKey(row, signal, breadth),
              x: bin + 0.06,
              x2: bin + 0.94,
              y: (row + 1) * ROW_PX - 4,
              y2: (row + 1) * ROW_PX - 4 - Math.max(1.5, (count / most) * BAR_PX),
            },
          ],
    );
  });
  const labels = edgeLabels[breadth];
  const scale = { domain: [0, lagEdges.length + 1], nice: false };
  const axis = {
    values: lagEdges.flatMap((edge, index) => (labels.has(edge) ? [index + 1] : [])),
    labelExpr: `{${lagEdges.map((edge, index) => `'${index + 1}': '${labels.get(edge) ?? ""}'`).join(",")}}[datum.value]`,
    grid: false,
    title: "earlier than the reference, later",
  };
  const zero = lagEdges.indexOf(5) + 0.5;
  const height = ROW_PX * lags.length;
  const named = rowEncoding(breadth);
  const rows = { ...named, axis: { ...named.axis, grid: false } };
  return {
    ...frame(breadth, 4),
    height,
    config: theme,
    layer: [
      layer(
        lags.map(({ signal }, row) => ({ row: rowKey(row, signal, breadth) })),
        { type: "point", opacity: 0 },
        { y: rows, x: { datum: 0, type: "quantitative", scale, axis } },
      ),
      layer(
        lags.map((_, row) => ({ y: (row + 1) * ROW_PX - 4 })),
        { type: "rule", color: palette.hair },
        { y: { ...quantity("y"), scale: null, axis: null } },
      ),
      layer([{ zero }], { type: "rule", color: palette.soft, strokeDash: [2, 3] }, { x: quantity("zero") }),
      layer(
        values,
        { type: "rect", fill: palette.signal },
        { x: quantity("x"), x2: { field: "x2" }, y: { ...quantity("y"), scale: null, axis: null }, y2: { field: "y2" } },
      ),
    ],
    resolve: { scale: { y: "independent" } },
  };
}
