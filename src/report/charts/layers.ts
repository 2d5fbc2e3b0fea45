import type { TopLevelSpec } from "vega-lite";
import type { PlacedSpan, PlacedText } from "./sheet.js";

/** One layer of a vega-lite chart. */
export type Layer = Extract<TopLevelSpec, { layer: unknown }>["layer"][number];
type Mark = Extract<Layer, { mark: unknown }>["mark"];
type Encoding = NonNullable<Extract<Layer, { mark: unknown }>["encoding"]>;

/** How a layer looks; see vega-lite's mark properties of the same names. */
export interface Look {
  readonly color?: string;
  readonly strokeWidth?: number;
  readonly align?: "left" | "center" | "right";
  readonly baseline?: "top" | "middle" | "bottom";
  readonly fontWeight?: "bold" | "normal";
}

/** The channel of a number. */
export function quantity<Field extends string>(field: Field) {
  return { field, type: "quantitative" } as const;
}

/** The channel of a text, which comes from data and never from an expression, so that a name cannot be run. */
export const labelText = { field: "label", type: "nominal" } as const;

/** A layer with rows of its own. */
export function layer(rows: readonly object[], mark: Mark, encoding: Encoding): Layer {
  return { data: { values: [...rows] }, mark, encoding };
}

/** Leaves out layers that have nothing to draw: each costs time. */
export function withContent(layers: readonly Layer[]): Layer[] {
  return layers.filter(({ data }) => !(data && "values" in data && Array.isArray(data.values) && data.values.length === 0));
}

/** Texts at their places in px. */
export function texts(rows: readonly PlacedText[], look: Look): Layer {
  return layer(rows, { type: "text", ...look }, { x: px("x"), y: px("y"), text: labelText });
}

/** Straight lines from place to place in px. */
export function rules(rows: readonly PlacedSpan[], look: Look): Layer {
  return layer(rows, { type: "rule", ...look }, { x: px("x"), x2: { field: "x2" }, y: px("y"), y2: { field: "y2" } });
}

function px(field: string) {
  return { ...quantity(field), scale: null, axis: null };
}
