import type { TopLevelSpec } from "vega-lite";
import type { PlacedSpan, PlacedText } from "./sheet.js";

/** One layer of a vega-lite chart. */
export type Layer = Extract<TopLevelSpec, { layer: unknown }>["layer"][number];

/** How a layer looks; see vega-lite's mark properties of the same names. */
export interface Look {
  readonly color?: string;
  readonly strokeWidth?: number;
  readonly align?: "left" | "center" | "right";
  readonly baseline?: "top" | "middle" | "bottom";
  readonly fontWeight?: "bold" | "normal";
}

const px = (field: string) => ({ field, type: "quantitative" as const, scale: null, axis: null });

/** Leaves out layers that have nothing to draw: each costs time. */
export function withContent(layers: readonly Layer[]): Layer[] {
  return layers.filter(({ data }) => !(data && "values" in data && Array.isArray(data.values) && data.values.length === 0));
}

/** Texts at their places. The text comes from data, never from an expression, so a name cannot be run. */
export function texts(values: readonly PlacedText[], look: Look): Layer {
  return { data: { values: [...values] }, mark: { type: "text", ...look }, encoding: { x: px("x"), y: px("y"), text: { field: "label", type: "nominal" } } };
}

/** Straight lines. */
export function rules(values: readonly PlacedSpan[], look: Look): Layer {
  return { data: { values: [...values] }, mark: { type: "rule", ...look }, encoding: { x: px("x"), x2: { field: "x2" }, y: px("y"), y2: { field: "y2" } } };
}
