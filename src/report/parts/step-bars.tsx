import type { JSX } from "preact";
import { SECOND_MS } from "../../ground/units.js";
import type { TwinLane, WorstStretch } from "../../result/sensors.js";
import { HATCH } from "../charts/hatches.js";
import { pictureTicks } from "../charts/picture-ticks.js";
import type { LocalClock } from "../local-time.js";
import { shortened } from "../visible-text.js";

interface Properties {
  readonly worst: WorstStretch;
  readonly picture: NonNullable<WorstStretch["picture"]>;
  readonly clock: LocalClock;
  /** What it shows, in words. */
  readonly labelledBy: string;
}

interface Lane {
  readonly name: string;
  readonly sort: "truth" | "twin" | "own";
  readonly steps: TwinLane["steps"];
}

const LANE_PX = 46;
const NAME_PX = 12;
const BAR_TOP_PX = 18;
const BAR_PX = 15;
/** Longer names are cut. */
const NAME_LETTERS = 40;
const EVENT_PX = 16;
const AXIS_PX = 20;
/** Of a bar this wide, the word for "on" has room within. */
const ROOM_SHARE = 0.2;
/** As many times as find room on a phone. */
const MOST_TICKS = 3;

/** Bars where each signal said "on": what most likely happened, the twin, and the sensor itself with its worst stretch in brick. It takes the width that there is. */
export function StepBars({ worst, picture, clock, labelledBy }: Properties): JSX.Element {
  const { from, to } = picture;
  const percent = (at: number): string => `${Math.round((Math.min(Math.max(at, from), to) - from) / (to - from) * 10_000) / 100}%`;
  const width = (a: number, b: number): string => percent(from + Math.min(b, to) - Math.max(a, from));
  const lanes: Lane[] = [
    { name: "what most likely happened", sort: "truth", steps: picture.truth },
    ...(picture.twin === null ? [] : [{ name: picture.twin.signal, sort: "twin" as const, steps: picture.twin.steps }]),
    { name: picture.own.signal, sort: "own", steps: picture.own.steps },
  ];
  const hasRoom = (one: { from: number; to: number; state: string }): boolean => one.state === "on" && (one.to - one.from) / (to - from) >= ROOM_SHARE;
  const ownTop = (lanes.length - 1) * LANE_PX + BAR_TOP_PX;
  const foot = ownTop + BAR_PX + EVENT_PX;
  return (
    <svg class="step-bars" width="100%" height={foot + AXIS_PX} role="img" aria-labelledby={labelledBy}>
      {pictureTicks(picture, clock, MOST_TICKS).map((tick) => (
        <>
          <line class="tick" x1={percent(tick.at)} x2={percent(tick.at)} y1={BAR_TOP_PX} y2={ownTop + BAR_PX} />
          <text class="soft" x={percent(tick.at)} y={foot + 16} text-anchor={anchorAt((tick.at - from) / (to - from))}>{tick.label}</text>
        </>
      ))}
      {lanes.map(({ name, sort, steps }, index) => {
        const top = index * LANE_PX;
        return (
          <g>
            <text class="lane" x="0" y={top + NAME_PX}>{shortened(name, NAME_LETTERS)}</text>
            <line class="base" x1="0" x2="100%" y1={top + BAR_TOP_PX + BAR_PX + 0.5} y2={top + BAR_TOP_PX + BAR_PX + 0.5} />
            {stretchesOf(steps, picture).map((one, _, all) =>
              one.state === "off" ? null : (
                <>
                  <rect class={one.state === "unknown" ? "unknown" : sort} {...(one.state === "unknown" ? { fill: `url(#${HATCH.unchecked})` } : {})} x={percent(one.from)} width={width(one.from, one.to)} y={top + BAR_TOP_PX} height={BAR_PX} />
                  {one === all.find(hasRoom) && <text class="within" x={percent(one.from)} dx="6" y={top + BAR_TOP_PX + 11.5}>{picture.words.on}</text>}
                </>
              ),
            )}
          </g>
        );
      })}
      <rect
        class={worst.said === "on" ? "wrongly" : "expected"} {...(worst.said === "on" ? {} : { fill: `url(#${HATCH.expected})` })}
        x={percent(worst.from)} width={width(worst.from, worst.to)} y={ownTop} height={BAR_PX}
      />
      <text class="event" x={percent((worst.from + worst.to) / 2)} y={foot} text-anchor="middle">{worst.text}</text>
    </svg>
  );
}

/** A text at the edge must not stand out over it. */
function anchorAt(share: number): "start" | "middle" | "end" {
  return share < 0.04 ? "start" : share > 0.96 ? "end" : "middle";
}

function stretchesOf(steps: TwinLane["steps"], { from, to }: { readonly from: number; readonly to: number }): { from: number; to: number; state: TwinLane["steps"][number][1] }[] {
  return steps.map(([seconds, state], index) => {
    const next = steps[index + 1];
    return { from: from + seconds * SECOND_MS, to: next === undefined ? to : from + next[0] * SECOND_MS, state };
  });
}
