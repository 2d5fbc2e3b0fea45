import type { TopLevelSpec } from "vega-lite";
import type { RuleFinding } from "../../result/schema.js";
import { amountText } from "../format.js";
import { labelText, layer, quantity } from "./layers.js";
import { type Breadth, frame, gutterPx, palette, theme } from "./theme.js";

const ROW_PX = 24;
const TICKS = [0, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000];
const MOST_TICKS: Readonly<Record<Breadth, number>> = { wide: 9, narrow: 5 };

/**
 * Wrong firings a year, both ways of taking the unverified ones, against the limit. The axis is linear up to about one
 * a year and logarithmic beyond, since a month's upper bound is often a hundred times the limit.
 */
export function limitStrip(rates: RuleFinding["wrongPerYear"], breadth: Breadth): TopLevelSpec {
  const values = [
    { row: breadth === "wide" ? "unverified taken as right" : "as right", ...rates.unverifiedAsRight },
    { row: breadth === "wide" ? "unverified taken as wrong" : "as wrong", ...rates.unverifiedAsWrong },
  ].map(({ row, value, low, high }) => ({ row, value, low: low ?? value, high: high ?? value }));
  const shown = values.filter((row) => row.value !== null);
  const most = Math.max(1, rates.limit ?? 0, ...shown.flatMap((row) => [row.value ?? 0, row.high ?? 0]));
  const fitting = TICKS.filter((tick) => tick <= most);
  const every = Math.ceil(fitting.length / MOST_TICKS[breadth]);
  const scale = { type: "symlog" as const, constant: 1, domain: [0, most * 1.05], nice: false };
  const axis = { values: fitting.filter((_, index) => index % every === 0), grid: false, format: ",.1~f", title: "wrong firings a year" };
  const y = {
    field: "row",
    type: "nominal",
    sort: null,
    title: null,
    axis: {
      domain: false,
      ticks: false,
      grid: true,
      labelColor: palette.ink,
      labelLimit: 0,
      labelAlign: "left",
      labelPadding: gutterPx[breadth],
    },
  } as const;
  const limit = rates.limit === null ? [] : [{ limit: rates.limit, label: `limit ${amountText(rates.limit)}` }];
  const limitIsFar = (rates.limit ?? 0) > most / 4;
  return {
    ...frame(breadth, 20),
    height: ROW_PX * values.length,
    config: theme,
    data: { values },
    layer: [
      layer(
        shown,
        { type: "rule", color: palette.signal, strokeWidth: 2 },
        { y, x: { ...quantity("low"), scale, axis }, x2: { field: "high" } },
      ),
      layer(shown, { type: "tick", color: palette.signal, size: 9, thickness: 2 }, { y, x: quantity("high") }),
      layer(shown, { type: "point", filled: true, color: palette.signal, size: 75, opacity: 1 }, { y, x: quantity("value") }),
      layer(
        values.filter((row) => row.value === null),
        { type: "text", text: "no value", align: "left", dx: 6, dy: -6, color: palette.soft },
        { y, x: { datum: 0, type: "quantitative" } },
      ),
      layer(limit, { type: "rule", color: palette.breaks, strokeWidth: 1.5, strokeDash: [5, 3] }, { x: quantity("limit") }),
      layer(
        limit,
        { type: "text", align: limitIsFar ? "right" : "left", baseline: "bottom", dy: -3, color: palette.breaks },
        { x: quantity("limit"), y: { value: 0 }, text: labelText },
      ),
    ],
  };
}
