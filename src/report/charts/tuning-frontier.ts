import type { TopLevelSpec } from "vega-lite";
import type { RuleFinding } from "../../findings/schema.js";
import { type Breadth, frame, palette, theme } from "./theme.js";

type Tuning = NonNullable<RuleFinding["tuning"]>;
type Point = Tuning["present"];

const HEIGHT_PX = 220;
const RATE_TICKS = [0, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000];

/** What each setting did on the part of the history that had no say in choosing it: wrong a year against share missed. */
export function tuningFrontier(tuning: Tuning, limits: { readonly wrong: number | null; readonly missed: number | null }, breadth: Breadth): TopLevelSpec | null {
  const place = (point: Point, sort: string): { x: number; y: number; sort: string }[] => {
    const { wrongPerYear, missedShare } = point.heldOut;
    return wrongPerYear.value === null || missedShare.value === null ? [] : [{ x: missedShare.value, y: wrongPerYear.value, sort }];
  };
  const present = place(tuning.present, "as it is");
  const suggested = tuning.suggestion === null ? [] : place(tuning.suggestion, "suggested");
  const others = tuning.frontier.filter(({ change }) => change !== tuning.present.change && change !== tuning.suggestion?.change).flatMap((point) => place(point, "tried"));
  const all = [...others, ...present, ...suggested];
  if (all.length < 2) return null;
  const mostY = Math.max(1, limits.wrong ?? 0, ...all.map(({ y }) => y)) * 1.6;
  const mostX = Math.min(1, Math.max(0.05, (limits.missed ?? 0) * 1.2, ...all.map(({ x }) => x * 1.15)));
  const x = { field: "x", type: "quantitative" as const, scale: { domain: [0, mostX], nice: false, zero: true }, axis: { tickCount: breadth === "wide" ? 6 : 3, grid: false, title: "share missed on the rest of the history" } };
  const y = {
    field: "y",
    type: "quantitative" as const,
    scale: { type: "symlog" as const, constant: 1, domain: [0, mostY], nice: false },
    axis: { values: RATE_TICKS.filter((tick) => tick <= mostY), format: ",~f", grid: true, title: breadth === "wide" ? "wrong a year, unverified as wrong" : null, titleAnchor: "middle" as const },
  };
  const dashes = { type: "rule" as const, color: palette.breaks, strokeWidth: 1.5, strokeDash: [5, 3] };
  const point = (values: object[], shape: string, look: object) => ({ data: { values }, mark: { type: "point" as const, shape, opacity: 1, ...look }, encoding: { x, y } });
  const named = [...present, ...suggested];
  return {
    ...frame(breadth, 12),
    height: HEIGHT_PX,
    config: theme,
    layer: [
      point(others, "circle", { filled: false, stroke: palette.signal, strokeWidth: 1.5, size: 60 }),
      point(present, "diamond", { filled: true, color: palette.ink, size: 170 }),
      point(suggested, "triangle-up", { filled: true, color: palette.clear, size: 190 }),
      { data: { values: named }, mark: { type: "text" as const, align: "left" as const, dx: 11, dy: -9, color: palette.ink }, encoding: { x, y, text: { field: "sort", type: "nominal" as const } } },
      { data: { values: limits.missed === null || limits.missed > mostX ? [] : [{ x: limits.missed }] }, mark: dashes, encoding: { x } },
      { data: { values: limits.wrong === null ? [] : [{ y: limits.wrong }] }, mark: dashes, encoding: { y } },
    ],
  };
}
