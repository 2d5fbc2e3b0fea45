import type { TopLevelSpec } from "vega-lite";
import type { RuleFinding } from "../../result/schema.js";
import { lengthText } from "../format.js";
import { labelText, type Layer, layer, quantity, withContent } from "./layers.js";
import { type Breadth, frame, palette, theme } from "./theme.js";

type Tuning = NonNullable<RuleFinding["tuning"]>;
type Point = Tuning["present"];

interface Placed {
  readonly sort: "as it is" | "suggested" | "tried";
  /** On the part of the history that had no say in choosing it. */
  readonly x: number;
  readonly y: number;
  /** On the part it was chosen on; null where that has no value. */
  readonly first: { readonly x: number; readonly y: number } | null;
  readonly label: string;
}

const HEIGHT_PX = 240;
/** Shares of the axes within which labels would touch. */
const NEAR = 0.3;
const NEAR_HEIGHT = 0.08;
const RATE_TICKS = [0, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/**
 * Settings by wrong a year against share missed. The large mark is what a setting did on the rest of the history, which
 * had no say in choosing it, with its median delay; a thin line leads from what it did on the first part, a small ring.
 * Null where there are not two settings to compare.
 */
export function tuningFrontier(
  tuning: Tuning,
  limits: { readonly wrong: number | null; readonly missed: number | null },
  breadth: Breadth,
): TopLevelSpec | null {
  const placed = settings(tuning);
  if (placed.length < 2) return null;
  const firsts = placed.flatMap(({ first, x, y }) => (first === null ? [] : [{ ...first, x2: x, y2: y }]));
  const all = [...placed, ...firsts];
  const mostY = Math.max(1, limits.wrong ?? 0, ...all.map(({ y }) => y)) * 1.8;
  const mostX = Math.min(1, Math.max(0.05, (limits.missed ?? 0) * 1.2, ...all.map(({ x }) => x * 1.15)));
  const x = {
    ...quantity("x"),
    scale: { domain: [-mostX * 0.02, mostX], nice: false, zero: false },
    axis: { tickCount: breadth === "wide" ? 6 : 3, grid: false, title: "share missed" },
  };
  const y = {
    field: "y",
    type: "quantitative" as const,
    scale: { type: "symlog" as const, constant: 1, domain: [0, mostY], nice: false },
    axis: {
      values: RATE_TICKS.filter((tick) => tick <= mostY),
      format: ",~f",
      grid: true,
      title: breadth === "wide" ? "wrong a year, unverified as wrong" : null,
      titleAnchor: "middle" as const,
    },
  };
  const dashes = { type: "rule" as const, color: palette.breaks, strokeWidth: 1.5, strokeDash: [5, 3] };
  const point = (values: readonly { x: number; y: number }[], shape: string, look: object): Layer =>
    layer(values, { type: "point", shape, opacity: 1, ...look }, { x, y });
  const sorted = (sort: Placed["sort"]): Placed[] => placed.filter((one) => one.sort === sort);
  const label = (values: object[], look: object, place: object = { x, y }): Layer =>
    layer(values, { type: "text", color: palette.ink, ...look }, { ...place, text: labelText });
  const limitX = limits.missed === null || limits.missed > mostX ? [] : [{ x: limits.missed, label: "limit" }];
  const limitY = limits.wrong === null ? [] : [{ y: limits.wrong, x: mostX, label: "limit" }];
  return {
    ...frame(breadth, 16),
    height: HEIGHT_PX,
    config: theme,
    layer: withContent([
      layer(limitX, dashes, { x }),
      layer(limitY, dashes, { y }),
      label(limitX, { align: "center", baseline: "bottom", dy: -2, color: palette.breaks }, { x, y: { value: 0 } }),
      label(limitY, { align: "right", baseline: "bottom", dy: -2, color: palette.breaks }),
      layer(firsts, { type: "rule", color: palette.soft, strokeWidth: 1 }, { x, y, x2: { field: "x2" }, y2: { field: "y2" } }),
      point(firsts, "circle", { filled: true, fill: palette.paper, stroke: palette.soft, strokeWidth: 1.25, size: 26 }),
      point(sorted("tried"), "circle", { filled: true, fill: palette.paper, stroke: palette.signal, strokeWidth: 2, size: 80 }),
      point(sorted("as it is"), "diamond", { filled: true, color: palette.ink, size: 170 }),
      point(sorted("suggested"), "triangle-up", { filled: true, color: palette.clear, size: 190 }),
      ...([1, -1] as const).map((side) =>
        label(
          labelled(placed, mostX, mostY).filter(
            (one) => (one.x > mostX * 0.7 ? -1 : 1) === side && (breadth === "wide" || one.sort !== "tried"),
          ),
          { align: side === 1 ? "left" : "right", dx: 11 * side, dy: -9 },
        ),
      ),
    ]),
  };
}

/**
 * The settings to label: of those that did nearly the same only the first, since labels would overlap; the table has
 * them all.
 */
function labelled(placed: readonly Placed[], mostX: number, mostY: number): Placed[] {
  const near = (a: Placed, b: Placed): boolean =>
    Math.abs(a.x - b.x) < mostX * NEAR && Math.abs(Math.log1p(a.y) - Math.log1p(b.y)) < Math.log1p(mostY) * NEAR_HEIGHT;
  return placed.filter((one, index) => !placed.slice(0, index).some((other) => near(one, other)));
}

/**
 * The settings to show: the present, the suggested and the others on the frontier, but only one of those that did the
 * same.
 */
function settings(tuning: Tuning): Placed[] {
  const { present, suggestion, frontier } = tuning;
  const others = frontier.filter(({ change }) => change !== present.change && change !== suggestion?.change);
  const all = [
    ...place(present, "as it is"),
    ...(suggestion === null ? [] : place(suggestion, "suggested")),
    ...others.flatMap((point) => place(point, "tried")),
  ];
  return all.filter(
    (one, index) =>
      one.sort !== "tried" || !all.slice(0, index).some((other) => other.x === one.x && other.y === one.y && other.label === one.label),
  );
}

function place({ train, heldOut }: Point, sort: Placed["sort"]): Placed[] {
  const at = (part: Point["train"]): Placed["first"] =>
    part.wrongPerYear.value === null || part.missedShare.value === null ? null : { x: part.missedShare.value, y: part.wrongPerYear.value };
  const rest = at(heldOut);
  const delay = heldOut.delay.value === null ? [] : [`${lengthText(heldOut.delay.value)} late`];
  return rest === null ? [] : [{ ...rest, sort, first: at(train), label: [...(sort === "tried" ? [] : [sort]), ...delay].join(", ") }];
}
