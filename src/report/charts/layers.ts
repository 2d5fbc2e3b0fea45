import type { TopLevelSpec } from "vega-lite";

/** One layer of a chart. */
export type Layer = Extract<TopLevelSpec, { layer: unknown }>["layer"][number];

/** A text at a place, in px of the chart. */
export interface PlacedText {
  readonly x: number;
  readonly y: number;
  readonly label: string;
}

/** A straight line from (x, y) to (x2, y2), or the box between them; px of the chart. */
export interface PlacedSpan {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
}

/** How a layer looks; see vega-lite's mark properties of the same names. */
export interface Look {
  readonly color?: string;
  readonly fill?: string;
  readonly stroke?: string;
  readonly strokeWidth?: number;
  readonly strokeDash?: number[];
  readonly align?: "left" | "center" | "right";
  readonly baseline?: "top" | "middle" | "bottom";
  readonly fontSize?: number;
  readonly fontWeight?: "bold" | "normal";
}

const px = (field: string) => ({ field, type: "quantitative" as const, scale: null, axis: null });

/** Leaves out layers that have nothing to draw: each costs time, and a month may have a hundred diagrams. */
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

/** Boxes. */
export function boxes(values: readonly PlacedSpan[], look: Look): Layer {
  return { data: { values: [...values] }, mark: { type: "rect", ...look }, encoding: { x: px("x"), x2: { field: "x2" }, y: px("y"), y2: { field: "y2" } } };
}

/** Step lines; one `run` is one unbroken line. */
export function steps(values: readonly { readonly x: number; readonly y: number; readonly run: string }[], look: Look): Layer {
  return {
    data: { values: [...values] },
    mark: { type: "line", interpolate: "step-after", strokeJoin: "miter", strokeCap: "butt", ...look },
    encoding: { x: px("x"), y: px("y"), detail: { field: "run" }, order: { field: "x", type: "quantitative" } },
  };
}

/** Filled marks of one shape. */
export function marks(values: readonly { readonly x: number; readonly y: number }[], shape: string, size: number, look: Look): Layer {
  return { data: { values: [...values] }, mark: { type: "point", shape, size, filled: look.stroke === undefined, opacity: 1, ...look }, encoding: { x: px("x"), y: px("y") } };
}
