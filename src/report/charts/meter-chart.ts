import type { TopLevelSpec } from "vega-lite";
import { SECOND_MS } from "../../ground/units.js";
import type { TwinLane, WorstStretch } from "../../result/sensors.js";
import { amountText } from "../format.js";
import type { LocalClock } from "../local-time.js";
import { HATCH } from "./hatches.js";
import { labelText, type Layer, layer, quantity, withContent } from "./layers.js";
import { pictureTicks } from "./picture-ticks.js";
import { type Breadth, chartWidthPx, theme } from "./theme.js";

/** What a chart of readings shows: one sensor around the worst stretch of itself or of its twin. */
export interface MeterInput {
  readonly lane: TwinLane & { readonly meter: NonNullable<TwinLane["meter"]> };
  readonly window: { readonly from: number; readonly to: number };
  /** Null for the twin, which was right. */
  readonly worst: WorstStretch | null;
  readonly expected: readonly [number, number] | null;
  /** Times stand below it. */
  readonly hasTimes: boolean;
  readonly clock: LocalClock;
}

const HEIGHT_PX = 96;
/** Room at the right for what the readings mean. */
const GUTTER_PX: Readonly<Record<Breadth, number>> = { wide: 136, narrow: 76 };
const FONT_PX = 12.5;
/** So near to the edge a time would be cut off. */
const EDGE_SHARE = 0.04;
/** Labels closer than this touch. */
const NEAR_PX = 15;

/**
 * Readings around a stretch, the band shaded, the place where they should have been hatched, and what happened in words.
 * Places are shares of the window and of the highest value, so that all such charts have one shape (see chart-shapes.ts).
 */
export function meterChart(input: MeterInput, breadth: Breadth): TopLevelSpec {
  const { lane: { meter }, window, worst, expected, hasTimes, clock } = input;
  const values = meter.readings.flatMap(([, value]) => (value === null ? [] : [value]));
  const top = Math.max(meter.band.far, expected?.[1] ?? 0, ...values) * 1.06;
  const across = (at: number): number => (at - window.from) / (window.to - window.from);
  const heard = meter.readings.map(([seconds, value]) => ({ x: across(window.from + seconds * SECOND_MS), y: value === null ? null : value / top }));
  // The last reading holds to the end.
  const rows = [...heard, ...heard.slice(-1).map(({ y }) => ({ x: 1, y }))];
  const up = ([low, high]: readonly [number, number]): { y: number; y2: number } => ({ y: low / top, y2: high / top });
  const stretch = worst === null ? null : { x: across(worst.from), x2: across(worst.to) };
  const bad = stretch === null ? [] : withinStretch(rows, stretch);
  const width = chartWidthPx[breadth] - GUTTER_PX[breadth];
  const ticks = pictureTicks(window, clock, breadth === "wide" ? 6 : 3).map(({ at, label }) => ({ x: across(at), label }));
  const ownScale = { scale: { domain: [0, 1], nice: false }, axis: null };
  const [x, y] = [{ ...quantity("x"), ...ownScale }, { ...quantity("y"), ...ownScale }];
  const [x2, y2] = [{ field: "x2" }, { field: "y2" }];
  const line = (of: readonly object[], look: object): Layer => layer(of, { type: "line", interpolate: "step-after", ...look }, { x, y });
  const text = (of: readonly object[], look: object, place: object = { x, y }): Layer =>
    layer(of, { type: "text", fontSize: FONT_PX, color: "var(--ink2)", ...look }, { ...place, text: labelText });
  const event = worst === null || stretch === null ? [] : [{ ...eventPlace(stretch, bad, expected === null ? up([meter.band.near, meter.band.far]) : up(expected)), label: breadth === "wide" ? worst.text : worst.short }];
  return {
    autosize: "none",
    padding: { left: 0, right: GUTTER_PX[breadth], top: 4, bottom: hasTimes ? 22 : 4 },
    width,
    height: HEIGHT_PX,
    config: theme,
    layer: withContent([
      layer([{ x: 0, x2: 1, ...up([meter.band.near, meter.band.far]) }], { type: "rect", color: "var(--wash)" }, { x, x2, y, y2 }),
      layer(ticks, { type: "rule", color: "var(--hair)", strokeDash: [1, 3] }, { x }),
      layer(stretch === null || expected === null ? [] : [{ ...stretch, ...up(expected) }], {
        type: "rect", fill: `url(#${HATCH.expected})`, stroke: "var(--brick)", strokeWidth: 1.5,
      }, { x, x2, y, y2 }),
      layer([{ x: 0, x2: 1, y: 0 }], { type: "rule", color: "var(--ink2)" }, { x, x2, y }),
      line(rows, { color: "var(--state)", strokeWidth: 2 }),
      line(bad, { color: "var(--brick)", strokeWidth: 3 }),
      ...[{ stroke: "var(--paper)", strokeWidth: 4, strokeJoin: "round" }, {}].map((halo) =>
        text(event, { color: "var(--brick)", fontWeight: 600, align: "center", baseline: "middle", ...halo }),
      ),
      text(levels(meter, values, top, breadth), { align: "left", baseline: "middle", dx: 8 }, { x: { value: width }, y }),
      text(hasTimes ? ticks.filter((tick) => tick.x > EDGE_SHARE && tick.x < 1 - EDGE_SHARE) : [], { align: "center", baseline: "top", dy: 6 }, { x, y: { value: HEIGHT_PX } }),
    ]),
  };
}

interface Row {
  readonly x: number;
  /** Null: silent from there on. */
  readonly y: number | null;
}

/** The readings within a stretch, held from its beginning to its end. */
function withinStretch(rows: readonly Row[], { x, x2 }: { readonly x: number; readonly x2: number }): Row[] {
  const before = rows.filter((row) => row.x < x).slice(-1).map(({ y }) => ({ x, y }));
  const inside = [...before, ...rows.filter((row) => row.x >= x && row.x < x2)];
  return [...inside, ...inside.slice(-1).map(({ y }) => ({ x: x2, y }))];
}

/** Between where the readings were and where they should have been, in the middle of the stretch. */
function eventPlace(stretch: { readonly x: number; readonly x2: number }, bad: readonly Row[], expected: { readonly y: number; readonly y2: number }): { x: number; y: number } {
  const known = bad.flatMap(({ y }) => (y === null ? [] : [y])).sort((a, b) => a - b);
  const was = known[Math.floor(known.length / 2)] ?? 0.5;
  const edge = was > expected.y2 ? expected.y2 : expected.y;
  // Too narrow a space between the two: above or below both.
  const isWide = Math.abs(was - edge) * HEIGHT_PX > 2 * NEAR_PX;
  return { x: (stretch.x + stretch.x2) / 2, y: isWide ? (was + edge) / 2 : Math.max(was, expected.y2) < 0.7 ? 0.88 : 0.12 };
}

/** What the heights mean: the highest reading, the band and nought, but none on top of another. */
function levels({ unit, band }: MeterInput["lane"]["meter"], values: readonly number[], top: number, breadth: Breadth): { y: number; label: string }[] {
  const written = (value: number): string => `${amountText(value)} ${unit}`;
  const middle = { y: (band.near + band.far) / 2 / top, label: `${breadth === "wide" ? "vehicle, " : ""}${amountText(band.near)}–${written(band.far)}` };
  const most = Math.max(...values, 0);
  const isClear = (y: number): boolean => Math.abs(y - middle.y) * HEIGHT_PX >= NEAR_PX;
  return [...(isClear(most / top) ? [{ y: most / top, label: written(most) }] : []), middle, ...(isClear(0) ? [{ y: 0, label: "0" }] : [])];
}
