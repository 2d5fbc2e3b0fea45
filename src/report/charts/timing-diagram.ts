import type { TopLevelSpec } from "vega-lite";
import type { ExcerptFinding } from "../../result/schema.js";
import type { LocalClock } from "../local-time.js";
import { boxes, type Layer, marks, type PlacedText, rules, steps, texts, withContent } from "./layers.js";
import { type Breadth, chartWidthPx, palette, TEXT_PX, theme } from "./theme.js";
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

/** The width of a digit in DejaVu Sans, the widest common fallback font, as a share of the text size: no font is measured. */
const CHARACTER_WIDTH = 0.64;
const UNKNOWN_LABEL_PX = 62;
const MOST_TICKS: Readonly<Record<Breadth, number>> = { wide: 6, narrow: 3 };
const FIRED_Y = 9;
const WANTED_Y = 26;
/** Height of the bar above the lanes. */
const BAR_PX = 5;
/** Between an instant and its label. */
const FLAG_GAP_PX = 9;
const roleColour: Readonly<Record<Role, string>> = { signal: palette.ink, rule: palette.signal, reference: palette.clear };

/**
 * A timing diagram as in a data sheet: a step line a signal (high: on, low: off), the rule below, the reference at the
 * bottom; unknown stretches hatched and named; across all lanes the instant of firing, or the stretch over which the rule
 * nearly fired. Times are the site's own.
 */
export function timingDiagram(moment: ExcerptFinding, marked: TimingMarks | NearStretch, clock: LocalClock, breadth: Breadth): TopLevelSpec {
  const from = moment.from;
  const to = moment.to;
  const { groups, left, top, bottom, xOf } = timingLanes(moment, breadth);
  const width = chartWidthPx[breadth];
  const ticks = timeTicks(from, to, MOST_TICKS[breadth], clock);
  const tickLabels = ticks.map((tick) => ({ x: within(xOf(tick.at), left, width, tick.label), y: bottom + 8, label: tick.label }));
  /** On a narrow drawing there is no room for the time, which the caption gives. */
  const timed = (words: string, instant: number): string => (breadth === "wide" ? `${words} ${clock.time(instant)}` : words);
  const place: Place = { from, to, xOf, bottom, width, timed };
  return {
    autosize: "none",
    padding: 0,
    width,
    height: bottom + 42,
    config: theme,
    layer: withContent([
      rules(ticks.map((tick) => ({ x: xOf(tick.at), x2: xOf(tick.at), y: top, y2: bottom + 4 })), { color: palette.hair }),
      ...groups.flatMap((group) => groupLayers(group)),
      texts(tickLabels, { align: "center", baseline: "top", color: palette.soft }),
      texts([{ x: width, y: bottom + 26, label: `local time, ${clock.offset(from)}` }], { align: "right", baseline: "top", color: palette.soft, fontSize: 11 }),
      ...("firedAt" in marked ? firingLayers(marked, place) : nearLayers(marked, place)),
    ]),
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
  return [
    ...(wantedAt === null || wantedAt < from || wantedAt > to
      ? []
      : [
          rules([{ x: xOf(wantedAt), x2: xOf(wantedAt), y: WANTED_Y, y2: bottom }], { color: palette.clear, strokeWidth: 1.5, strokeDash: [2, 3] }),
          flag(xOf(wantedAt), WANTED_Y, timed("wanted", wantedAt), wantedAt <= firedAt, width, { color: palette.clear }),
        ]),
    rules([{ x: xOf(firedAt), x2: xOf(firedAt), y: FIRED_Y, y2: bottom }], { color, strokeWidth: 1.5 }),
    marks([{ x: xOf(firedAt), y: FIRED_Y }], "triangle-down", 80, { color }),
    flag(xOf(firedAt), FIRED_Y, timed(`would ${act}`, firedAt), false, width, { color, fontWeight: "bold" }),
  ];
}

/** The stretch as a bar above the lanes, with a dashed line down from where it begins and, unless it runs on beyond the diagram, from where it ends. */
function nearLayers(near: NearStretch, { from, to, xOf, bottom, width, timed }: Place): Layer[] {
  const [begins, ends] = [Math.max(from, near.from), Math.min(to, near.to)];
  const edges = near.to > to ? [begins] : [begins, ends];
  const color = palette.open;
  return [
    boxes([{ x: xOf(begins), x2: xOf(ends), y: WANTED_Y - BAR_PX / 2, y2: WANTED_Y + BAR_PX / 2 }], { color }),
    rules(edges.map((instant) => ({ x: xOf(instant), x2: xOf(instant), y: WANTED_Y - BAR_PX / 2, y2: bottom })), { color, strokeWidth: 1.5, strokeDash: [6, 3] }),
    flag(xOf(begins) - FLAG_GAP_PX, FIRED_Y, timed("one signal away", begins), false, width, { color, fontWeight: "bold" }),
  ];
}

function groupLayers(group: LaneGroup): Layer[] {
  const color = roleColour[group.role];
  const named = group.unknowns
    .filter((box) => box.x2 - box.x >= UNKNOWN_LABEL_PX)
    .map((box): PlacedText => ({ x: (box.x + box.x2) / 2, y: (box.y + box.y2) / 2 + 0.5, label: "unknown" }));
  const look = { align: "center", baseline: "middle", fontSize: 11 } as const;
  return [
    boxes(group.highs, { color: palette.wash }),
    boxes(group.unknowns, { fill: palette.unknown, stroke: palette.soft, strokeWidth: 0.75, strokeDash: [3, 3] }),
    texts(named, { ...look, color: palette.paper, stroke: palette.paper, strokeWidth: 5 }),
    texts(named, { ...look, color: palette.ink }),
    steps(group.points, { color, strokeWidth: 1.75, ...(group.role === "reference" ? { strokeDash: [7, 2] } : {}) }),
    texts(group.labels, { color, align: "left", baseline: "middle", ...(group.role === "rule" ? { fontWeight: "bold" as const } : {}) }),
  ];
}

/** A label beside an instant, on the preferred side if it fits there. */
function flag(x: number, y: number, label: string, preferLeft: boolean, width: number, look: { color: string; fontWeight?: "bold" }): Layer {
  const room = textWidth(label) + 10;
  const leftward = preferLeft ? x > room : x + room > width;
  return texts([{ x: leftward ? x - FLAG_GAP_PX : x + FLAG_GAP_PX, y, label }], { ...look, align: leftward ? "right" : "left", baseline: "middle" });
}

function within(x: number, left: number, right: number, label: string): number {
  const half = textWidth(label) / 2;
  return Math.min(right - half, Math.max(left + half, x));
}

function textWidth(label: string): number {
  return label.length * TEXT_PX * CHARACTER_WIDTH;
}
