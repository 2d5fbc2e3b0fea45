import { group } from "d3-array";
import type { JSX } from "preact";
import { render } from "preact-render-to-string";
import { TEXT_PX } from "./theme.js";

/** A text at a place, in px of the sheet. */
export interface PlacedText {
  readonly x: number;
  readonly y: number;
  readonly label: string;
}

/** A straight line from (x, y) to (x2, y2), or the box between them; px of the sheet. */
export interface PlacedSpan {
  readonly x: number;
  readonly x2: number;
  readonly y: number;
  readonly y2: number;
}

/** SVG attributes that all marks of a layer share. */
export interface Look {
  readonly fill?: string;
  readonly stroke?: string;
  readonly "stroke-width"?: number;
  readonly "stroke-dasharray"?: string;
  readonly "text-anchor"?: "start" | "middle" | "end";
  readonly "font-size"?: number;
  readonly "font-weight"?: "bold";
}

/** The shape of a mark. */
export type Shape = "circle" | "diamond" | "square" | "triangle-up" | "triangle-down";

/** Marks that look alike. */
export type Layer = { readonly look: Look } & (
  | {
      readonly mark: "text";
      readonly rows: readonly PlacedText[];
      /** Which edge of the text `y` is; "middle" unless given. */ readonly baseline?: "top";
      /** Written upwards. */ readonly upright?: true;
    }
  | { readonly mark: "rule" | "rect"; readonly rows: readonly PlacedSpan[] }
  /** Step lines; one `run` is one unbroken line. */
  | { readonly mark: "line"; readonly rows: readonly { readonly x: number; readonly y: number; readonly run: string }[] }
  /** `size` is about the area of a mark in px², of the layer or of each row. */
  | {
      readonly mark: "point";
      readonly shape: Shape;
      readonly size?: number;
      readonly rows: readonly { readonly x: number; readonly y: number; readonly size?: number }[];
    }
);

/** A drawing whose places were all worked out beforehand: layers from back to front, and room around them; px. */
export interface Sheet {
  readonly width: number;
  readonly height: number;
  /** Around the layers; `side` is both left and right. */
  readonly margin?: { readonly side: number; readonly top: number; readonly bottom: number };
  readonly layers: readonly Layer[];
}

/** Size of a mark that does not give its own. */
const DOT_SIZE = 40;
/**
 * How far below the place of a text its letters stand, as a share of their size, since not every browser knows
 * baselines.
 */
const BELOW = { top: 0.79, middle: 0.3 };

/**
 * Draws a sheet as SVG markup that can stand in a page beside others; texts are escaped.
 * @param id of the drawing, unique within the page, made by us, never from a name
 */
export function drawSheet({ width, height, margin = { side: 0, top: 0, bottom: 0 }, layers }: Sheet, id: string): string {
  const [fullWidth, fullHeight] = [px(width + 2 * margin.side), px(height + margin.top + margin.bottom)];
  return render(
    <svg aria-hidden="true" id={id} width={fullWidth} height={fullHeight} viewBox={`0 0 ${fullWidth} ${fullHeight}`}>
      <g fill="none" stroke-miterlimit="4" font-size={TEXT_PX} transform={`translate(${margin.side},${margin.top})`}>
        {layers.filter(({ rows }) => rows.length > 0).map((layer) => (
          <g {...layer.look}>{drawnMarks(layer)}</g>
        ))}
      </g>
    </svg>,
  );
}

function drawnMarks(layer: Layer): JSX.Element[] {
  if (layer.mark === "text") {
    const below = Math.round(BELOW[layer.baseline ?? "middle"] * (layer.look["font-size"] ?? TEXT_PX));
    return layer.rows.map(({ x, y, label }) => (
      <text x={px(x)} y={px(y + below)} {...(layer.upright === true ? { transform: `rotate(-90 ${px(x)} ${px(y)})` } : {})}>
        {label}
      </text>
    ));
  }
  // One path a layer: its marks look alike, and a page of many drawings stays small.
  if (layer.mark === "point") return [<path d={layer.rows.map(({ x, y, size = layer.size ?? DOT_SIZE }) => outline(layer.shape, x, y, Math.sqrt(size) / 2)).join("")} />];
  if (layer.mark === "line") {
    const runs = [...group(layer.rows, ({ run }) => run).values()];
    return [<path d={runs.flatMap((points) => points.map(({ x, y }, index) => (index === 0 ? `M${px(x)},${px(y)}` : `H${px(x)}V${px(y)}`))).join("")} />];
  }
  const drawn = layer.mark === "rule" ? lineFrom : boxOf;
  return [<path d={layer.rows.map(drawn).join("")} />];
}

function lineFrom({ x, x2, y, y2 }: PlacedSpan): string {
  const end = px(y) === px(y2) ? `H${px(x2)}` : px(x) === px(x2) ? `V${px(y2)}` : `L${px(x2)},${px(y2)}`;
  return `M${px(x)},${px(y)}${end}`;
}

function boxOf({ x, x2, y, y2 }: PlacedSpan): string {
  return `M${px(Math.min(x, x2))},${px(Math.min(y, y2))}h${px(Math.abs(x2 - x))}v${px(Math.abs(y2 - y))}h${px(-Math.abs(x2 - x))}Z`;
}

/** The outline of a mark about (x, y) that reaches `r` px to each side. */
function outline(shape: Shape, x: number, y: number, r: number): string {
  const [side, high] = [px(r), px((r * Math.sqrt(3)) / 2)];
  const from = (dx: number, dy: number): string => `M${px(x + dx)},${px(y + dy)}`;
  if (shape === "circle") return `${from(-side, 0)}a${side},${side},0,1,1,${px(2 * side)},0a${side},${side},0,1,1,${px(-2 * side)},0Z`;
  if (shape === "diamond") return `${from(-side, 0)}l${side},${-side}l${side},${side}l${-side},${side}Z`;
  if (shape === "square") return `${from(-side, -side)}h${px(2 * side)}v${px(2 * side)}h${px(-2 * side)}Z`;
  return shape === "triangle-up" ? `${from(0, -high)}l${-side},${px(2 * high)}h${px(2 * side)}Z` : `${from(-side, -high)}h${px(2 * side)}l${-side},${px(2 * high)}Z`;
}

/** To a tenth of a px. */
function px(length: number): number {
  return Math.round(length * 10) / 10;
}
