import type { JSX } from "preact";
import type { Scene as SceneOf } from "../../result/decision.js";
import { useClock } from "./local-time.js";
import { percent } from "../charts/percent.js";

const LANE_PX = 34;
const BAR_PX = 15;
/** Room above the first lane, and below the last for the times. */
const HEAD_PX = 4;
const FOOT_PX = 22;

/**
 * The worst moment of a rule as a timing diagram: a bar where something is on, hatched where it is unknown, the cause written into the
 * culprit's bar and what the rule did at the line of the event. Widths are shares of the page's, so that no text is scaled.
 */
export function Scene({ of, labelledBy }: { of: SceneOf; labelledBy: string }): JSX.Element {
  const { from, to, at, lanes, cause, effect, sort } = of;
  const clock = useClock();
  const share = (instant: number): number => Math.min(1, Math.max(0, (instant - from) / Math.max(1, to - from)));
  const bottom = HEAD_PX + lanes.length * LANE_PX;
  const eventX = share(at);
  return (
    <svg class="scene" width="100%" height={bottom + FOOT_PX} role="img" aria-labelledby={labelledBy}>
      {lanes.map((lane, i) => {
        const y = HEAD_PX + i * LANE_PX;
        return (
          <>
            <text class="lane-name" x="0" y={y + 11}>
              {roleText(lane)}
            </text>
            <path class="base" d={`M0 ${y + 16 + BAR_PX}H4000`} />
            {stretches(lane.steps, to).map(({ begins, ends, state }) => {
              const [a, b] = [share(begins), share(ends)];
              if (state === "off" || b - a <= 0 || lane.role === "rule") return null;
              return (
                <>
                  <rect class={state === "unknown" ? "lane unknown" : `lane ${lane.role}`} x={percent(a)} y={y + 16} width={percent(b - a)} height={BAR_PX} />
                  {b - a > 0.16 ? (
                    <text class={state === "unknown" ? "quiet" : "in-bar"} x={percent(a)} dx="5" y={y + 28}>
                      {state === "unknown" ? "unknown" : lane.on}
                    </text>
                  ) : null}
                </>
              );
            })}
            {cause?.lane === i ? <Cause cause={cause} y={y + 16} share={share} /> : null}
          </>
        );
      })}
      <line class={sort === "wrong" ? "event" : "event quiet"} x1={percent(eventX)} x2={percent(eventX)} y1={HEAD_PX} y2={bottom} />
      <text class="effect" x={percent(eventX)} dx={eventX > 0.6 ? -8 : 8} y={bottom - LANE_PX + 28} text-anchor={eventX > 0.6 ? "end" : "start"}>
        {sort === "wrong" ? "× " : ""}
        {effect} {clock.shortTime(at)}
      </text>
      {ticks(from, to, 4).map((tick, i, all) => (
        <text class="quiet" x={percent(share(tick))} y={bottom + 16} text-anchor={i === 0 ? "start" : i === all.length - 1 ? "end" : "middle"}>
          {to - from < 4 * 60_000 ? clock.time(tick) : clock.shortTime(tick)}
        </text>
      ))}
    </svg>
  );
}

/** The false or missing report: a hollow bar with the cause in it. The text moves out of a bar that is too short for it. */
function Cause({ cause, y, share }: { cause: NonNullable<SceneOf["cause"]>; y: number; share: (at: number) => number }): JSX.Element {
  const [a, b] = [share(cause.from), share(cause.to)];
  const wide = b - a > 0.3;
  const left = !wide && (a + b) / 2 > 0.5;
  return (
    <>
      <rect class="lane cause" x={percent(a)} y={y} width={percent(Math.max(0.004, b - a))} height={BAR_PX} />
      <text class="cause" x={percent(wide || left ? a : b)} dx={left ? -5 : 5} y={y + 12} text-anchor={left ? "end" : "start"}>
        {cause.text}
      </text>
    </>
  );
}

function roleText({ label, role }: SceneOf["lanes"][number]): string {
  return role === "truth" ? `${label}, what most likely happened` : label;
}

interface Stretch {
  readonly begins: number;
  readonly ends: number;
  readonly state: "on" | "off" | "unknown";
}

function stretches(steps: SceneOf["lanes"][number]["steps"], end: number): Stretch[] {
  return steps.map(([begins, state], i) => ({ begins, ends: steps[i + 1]?.[0] ?? end, state }));
}

/** Instants at even distances, both ends among them. */
function ticks(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}
