import type { ExcerptFinding } from "../../result/schema.js";
import type { LocalClock } from "../local-time.js";
import type { Layer, Look, PlacedSpan, Sheet } from "./sheet.js";
import { type Breadth, chartWidthPx, palette, TEXT_PX } from "./theme.js";
import { timeTicks } from "./time-ticks.js";
import { type LaneGroup, type Role, timingLanes } from "./timing-lanes.js";

/** The instants of a firing, marked across all lanes, epoch ms. */
export interface TimingMarks {
  readonly firedAt: number;
  /** What the rule would have done: `unlock`, `lock`, `arm`, `disarm`. */
  readonly act: string;
  readonly wantedAt: number | null;
  readonly outcome: "wrong" | "unverified";
}

/** A stretch `[from, to)` marked across all lanes, epoch ms, over which the rule was one signal away from firing. */
export interface NearStretch {
  readonly from: number;
  readonly to: number;
}

/**
 * The width of a digit in DejaVu Sans, the widest common fallback font, as a share of the text size: no font is
 * measured.
 */
const CHARACTER_WIDTH = 0.64;
const UNKNOWN_LABEL_PX = 62;
const MOST_TICKS: Readonly<Record<Breadth, number>> = { wide: 6, narrow: 3 };
const FIRED_Y = 9;
const WANTED_Y = 26;
/** Height of the bar above the lanes. */
const BAR_PX = 5;
/** Between an instant and its label. */
const FLAG_GAP_PX = 9;
const SMALL_TEXT_PX = 11;
const roleColour: Readonly<Record<Role, string>> = { signal: palette.ink, rule: palette.signal, reference: palette.clear };

/**
 * A timing diagram as in a data sheet: a step line for each signal (high: on, low: off), the rule below, the
 * reference at the bottom; unknown stretches hatched and named; across all lanes the instant of firing, or the
 * stretch over which the rule nearly fired. Times are the site's own.
 */
export function timingDiagram(moment: ExcerptFinding, marked: TimingMarks | NearStretch, clock: LocalClock, breadth: Breadth): Sheet {
  const { from, to } = moment;
  const { groups, left, top, bottom, xOf } = timingLanes(moment, breadth);
  const width = chartWidthPx[breadth];
  const ticks = timeTicks(from, to, MOST_TICKS[breadth], clock);
  const tickLabels = ticks.map((tick) => ({ x: within(xOf(tick.at), left, width, tick.label), y: bottom + 8, label: tick.label }));
  /** On a narrow drawing there is no room for the time, which the caption gives. */
  const timed = (words: string, instant: number): string => (breadth === "wide" ? `${words} ${clock.time(instant)}` : words);
  const place: Place = { from, to, xOf, bottom, width, timed };
  return {
    width,
    height: bottom + 42,
    layers: [
      { mark: "rule", rows: ticks.map((tick) => upright(xOf(tick.at), top, bottom + 4)), look: { stroke: palette.hair } },
      ...groups.flatMap((group) => groupLayers(group)),
      { mark: "text", baseline: "top", rows: tickLabels, look: { fill: palette.soft, "text-anchor": "middle" } },
      {
        mark: "text",
        baseline: "top",
        rows: [{ x: width, y: bottom + 26, label: `local time, ${clock.offset(from)}` }],
        look: { fill: palette.soft, "font-size": SMALL_TEXT_PX, "text-anchor": "end" },
      },
      ...("firedAt" in marked ? firingLayers(marked, place) : nearLayers(marked, place)),
    ],
  };
}

interface Place {
  readonly from: number;
  readonly to: number;
  readonly xOf: (instant: number) => number;
  readonly bottom: number;
  readonly width: number;
  readonly timed: (words: string, instant: number) => string;
}

function firingLayers({ firedAt, act, wantedAt, outcome }: TimingMarks, { from, to, xOf, bottom, width, timed }: Place): Layer[] {
  const color = outcome === "wrong" ? palette.breaks : palette.open;
  const wanted: Layer[] =
    wantedAt === null || wantedAt < from || wantedAt > to
      ? []
      : [
          {
            mark: "rule",
            rows: [upright(xOf(wantedAt), WANTED_Y, bottom)],
            look: { stroke: palette.clear, "stroke-width": 1.5, "stroke-dasharray": "2,3" },
          },
          flag(xOf(wantedAt), WANTED_Y, timed("wanted", wantedAt), wantedAt <= firedAt, width, { fill: palette.clear }),
        ];
  return [
    ...wanted,
    { mark: "rule", rows: [upright(xOf(firedAt), FIRED_Y, bottom)], look: { stroke: color, "stroke-width": 1.5 } },
    { mark: "point", shape: "triangle-down", size: 80, rows: [{ x: xOf(firedAt), y: FIRED_Y }], look: { fill: color } },
    flag(xOf(firedAt), FIRED_Y, timed(`would ${act}`, firedAt), false, width, { fill: color, "font-weight": "bold" }),
  ];
}

/**
 * The stretch as a bar above the lanes, with dashed lines down from its beginning and, unless it runs on beyond the
 * diagram, its end.
 */
function nearLayers(near: NearStretch, { from, to, xOf, bottom, width, timed }: Place): Layer[] {
  const [begins, ends] = [Math.max(from, near.from), Math.min(to, near.to)];
  const edges = near.to > to ? [begins] : [begins, ends];
  const color = palette.open;
  return [
    { mark: "rect", rows: [{ x: xOf(begins), x2: xOf(ends), y: WANTED_Y - BAR_PX / 2, y2: WANTED_Y + BAR_PX / 2 }], look: { fill: color } },
    {
      mark: "rule",
      rows: edges.map((instant) => upright(xOf(instant), WANTED_Y - BAR_PX / 2, bottom)),
      look: { stroke: color, "stroke-width": 1.5, "stroke-dasharray": "6,3" },
    },
    flag(xOf(begins) - FLAG_GAP_PX, FIRED_Y, timed("one signal away", begins), false, width, { fill: color, "font-weight": "bold" }),
  ];
}

function groupLayers({ role, highs, unknowns, points, labels }: LaneGroup): Layer[] {
  const color = roleColour[role];
  const named = unknowns
    .filter((box) => box.x2 - box.x >= UNKNOWN_LABEL_PX)
    .map((box) => ({ x: (box.x + box.x2) / 2, y: (box.y + box.y2) / 2 + 0.5, label: "unknown" }));
  const look = { "font-size": SMALL_TEXT_PX, "text-anchor": "middle" } as const;
  return [
    { mark: "rect", rows: highs, look: { fill: palette.wash } },
    {
      mark: "rect",
      rows: unknowns,
      look: { fill: palette.unknown, stroke: palette.soft, "stroke-width": 0.75, "stroke-dasharray": "3,3" },
    },
    { mark: "text", rows: named, look: { ...look, fill: palette.paper, stroke: palette.paper, "stroke-width": 5 } },
    { mark: "text", rows: named, look: { ...look, fill: palette.ink } },
    {
      mark: "line",
      rows: points,
      look: { stroke: color, "stroke-width": 1.75, ...(role === "reference" ? { "stroke-dasharray": "7,2" } : {}) },
    },
    { mark: "text", rows: labels, look: { fill: color, ...(role === "rule" ? { "font-weight": "bold" } : {}) } },
  ];
}

function upright(x: number, y: number, y2: number): PlacedSpan {
  return { x, x2: x, y, y2 };
}

/** A label beside an instant, on the preferred side if it fits there. */
function flag(x: number, y: number, label: string, preferLeft: boolean, width: number, look: Look): Layer {
  const room = textWidth(label) + 10;
  const leftward = preferLeft ? x > room : x + room > width;
  return {
    mark: "text",
    rows: [{ x: leftward ? x - FLAG_GAP_PX : x + FLAG_GAP_PX, y, label }],
    look: { ...look, "text-anchor": leftward ? "end" : "start" },
  };
}

function within(x: number, left: number, right: number, label: string): number {
  const half = textWidth(label) / 2;
  return Math.min(right - half, Math.max(left + half, x));
}

function textWidth(label: string): number {
  return label.length * TEXT_PX * CHARACTER_WIDTH;
}
