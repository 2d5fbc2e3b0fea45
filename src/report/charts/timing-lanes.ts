import type { ExcerptFinding } from "../../result/schema.js";
import { shortened } from "../visible-text.js";
import type { PlacedSpan, PlacedText } from "./sheet.js";
import { type Breadth, chartWidthPx, gutterPx, TEXT_PX } from "./theme.js";

/** What a lane shows. */
export type Role = ExcerptFinding["lanes"][number]["role"];

/** The lanes of one role, ready to draw; px from the chart's top left corner. */
export interface LaneGroup {
  readonly role: Role;
  readonly labels: readonly PlacedText[];
  /** Points of step lines; one `run` is one unbroken line. */
  readonly points: readonly { readonly x: number; readonly y: number; readonly run: string }[];
  readonly highs: readonly PlacedSpan[];
  readonly unknowns: readonly PlacedSpan[];
}

/** Where the parts of a timing diagram lie, px. */
export interface TimingLanes {
  readonly groups: readonly LaneGroup[];
  /** Where the time axis begins; it ends at the right edge. */
  readonly left: number;
  readonly top: number;
  readonly bottom: number;
  readonly xOf: (instant: number) => number;
}

type Steps = ExcerptFinding["lanes"][number]["steps"];

const RISE_PX = 15;
const LANE_PX: Readonly<Record<Breadth, number>> = { wide: 26, narrow: 40 };
const GROUP_GAP_PX = 14;
const HEAD_PX = 36;
const FOOT_PX = 8;
const LABEL_CHARACTERS: Readonly<Record<Breadth, number>> = { wide: 27, narrow: 42 };
/** A generous width of a character in px, since no font is measured here. */
const CHARACTER_PX = 7;
/** Room at the right for half a line. */
const EDGE_PX = 1;
const order: readonly Role[] = ["signal", "rule", "reference"];

/** Lays the lanes of an excerpt out: signals on top, the rule below them, the reference at the bottom. */
export function timingLanes(moment: ExcerptFinding, breadth: Breadth): TimingLanes {
  const { from, to } = moment;
  const longest = Math.max(0, ...moment.lanes.map((lane) => Math.min(lane.label.length, LABEL_CHARACTERS.wide)));
  const left = breadth === "wide" ? Math.min(gutterPx.wide, longest * CHARACTER_PX + 16) : 0;
  const xOf = (instant: number): number => left + ((instant - from) / Math.max(1, to - from)) * (chartWidthPx[breadth] - EDGE_PX - left);
  let floor = HEAD_PX - GROUP_GAP_PX;
  const groups = order.map((role): LaneGroup => {
    const lanes = moment.lanes.filter((lane) => lane.role === role);
    if (lanes.length > 0) floor += GROUP_GAP_PX;
    const placed = lanes.map((lane, index) => {
      floor += LANE_PX[breadth];
      return placedLane(lane.steps, { from, to, floor, xOf, run: `${role}-${index}` });
    });
    const top = floor - LANE_PX[breadth] * lanes.length;
    const labels = lanes.map((lane, index) => {
      const y = top + LANE_PX[breadth] * (index + 1);
      const label = shortened(lane.label, LABEL_CHARACTERS[breadth]);
      return { x: 0, y: breadth === "wide" ? y - RISE_PX / 2 : y - RISE_PX - TEXT_PX / 2 - 2, label };
    });
    return {
      role,
      labels,
      points: placed.flatMap((one) => one.points),
      highs: placed.flatMap((one) => one.highs),
      unknowns: placed.flatMap((one) => one.unknowns),
    };
  });
  return { groups, left, top: HEAD_PX, bottom: floor + FOOT_PX, xOf };
}

function placedLane(
  laneSteps: Steps,
  place: { from: number; to: number; floor: number; xOf: (instant: number) => number; run: string },
): Pick<LaneGroup, "points" | "highs" | "unknowns"> {
  const { floor, xOf } = place;
  const points: LaneGroup["points"][number][] = [];
  const highs: PlacedSpan[] = [];
  const unknowns: PlacedSpan[] = [];
  let run = 0;
  for (const stretch of stretchesOf(laneSteps, place.from, place.to)) {
    const [x, x2] = [xOf(stretch.from), xOf(stretch.to)];
    const box = { x, x2, y: floor - RISE_PX, y2: floor };
    if (stretch.state === "unknown") {
      unknowns.push(box);
      run++;
      continue;
    }
    if (stretch.state === "on") highs.push(box);
    const y = stretch.state === "on" ? box.y : box.y2;
    points.push({ x, y, run: `${place.run}-${run}` }, { x: x2, y, run: `${place.run}-${run}` });
  }
  return { points, highs, unknowns };
}

/** The steps of a lane as stretches that cover [from, to]; before the first step nothing is known. */
export function stretchesOf(laneSteps: Steps, from: number, to: number): { from: number; to: number; state: Steps[number][1] }[] {
  const starts = [
    [from, "unknown"] as const,
    ...laneSteps.map(([instant, state]) => [Math.max(from, instant), state] as const),
  ];
  return starts
    .map(([start, state], index) => ({ from: start, to: Math.min(to, starts[index + 1]?.[0] ?? to), state }))
    .filter((stretch) => stretch.to > stretch.from);
}
