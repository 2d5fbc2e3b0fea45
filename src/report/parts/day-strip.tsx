import type { JSX } from "preact";
import { NIGHT_SPANS } from "../../ground/night.js";
import { HOURS_PER_DAY } from "../../ground/units.js";
import type { Findings } from "../../result/findings.js";
import type { SensorFinding } from "../../result/sensors.js";
import { dayCount, type DayPiece, dayPieces, shortDay } from "../charts/day-places.js";
import { HATCH } from "../charts/hatches.js";
import type { LocalClock } from "../local-time.js";
import { percent } from "../charts/percent.js";

interface Properties {
  readonly period: Findings["period"];
  readonly stretches: SensorFinding["stretches"];
  readonly clock: LocalClock;
  /** The first and the last day stand above it. */
  readonly isLabelled: boolean;
  /** What it shows, in words. */
  readonly labelledBy: string;
}

const HEIGHT_PX = 30;
const LABELS_PX = 17;
/** Nothing is drawn lower than this many px. A box is this share of a day wide. */
const LEAST_PX = { differed: 2.5, silent: 2 };
const DAY_SHARE = 0.84;

/**
 * A month at a glance: days across, hours of the local day down. Brick where a sensor differed, grey where it was silent,
 * hatched where nothing could check it. It takes the width that there is; texts keep their size.
 */
export function DayStrip({ period, stretches, clock, isLabelled, labelledBy }: Properties): JSX.Element {
  const days = dayCount(period, clock);
  const top = isLabelled ? LABELS_PX : 1;
  const hourPx = HEIGHT_PX / HOURS_PER_DAY;
  const boxes = (sort: "differed" | "silent"): string => boxesPath(dayPieces(stretches[sort], period, clock), LEAST_PX[sort] / hourPx);
  return (
    <svg class="day-strip" width="100%" height={top + HEIGHT_PX + 2} role="img" aria-labelledby={labelledBy}>
      {NIGHT_SPANS.map(([from, to]) => <rect class="night" x="0" y={round(top + from * hourPx)} width="100%" height={round((to - from) * hourPx)} />)}
      {runsOf(dayPieces(stretches.unchecked, period, clock)).map(({ day, days: long, fromHour, toHour }) => (
        <rect fill={`url(#${HATCH.unchecked})`} x={percent(day / days)} width={percent(long / days)} y={round(top + fromHour * hourPx)} height={round((toHour - fromHour) * hourPx)} />
      ))}
      <svg x="0" y={top} width="100%" height={HEIGHT_PX} viewBox={`0 0 ${days} ${HOURS_PER_DAY}`} preserveAspectRatio="none">
        <path class="silent" d={boxes("silent")} />
        <path class="differed" d={boxes("differed")} />
      </svg>
      <line class="frame" x1="0" x2="100%" y1={top + HEIGHT_PX + 0.5} y2={top + HEIGHT_PX + 0.5} />
      {isLabelled && (
        <>
          <text x="0" y="11">{shortDay(period.from, clock)}</text>
          <text x="100%" y="11" text-anchor="end">{shortDay(period.to - 1, clock)}</text>
        </>
      )}
    </svg>
  );
}

/** A box a piece, in days and hours. */
function boxesPath(pieces: readonly DayPiece[], leastHours: number): string {
  return pieces
    .map(({ day, fromHour, toHour }) => {
      const high = Math.max(leastHours, toHour - fromHour);
      const from = Math.min(fromHour, HOURS_PER_DAY - high);
      return `M${round(day + (1 - DAY_SHARE) / 2)} ${round(from)}h${DAY_SHARE}v${round(high)}h-${DAY_SHARE}z`;
    })
    .join("");
}

interface Run extends DayPiece {
  readonly days: number;
}

/** Whole days that follow one another are one box. */
function runsOf(pieces: readonly DayPiece[]): Run[] {
  const runs: { day: number; days: number; fromHour: number; toHour: number }[] = [];
  for (const piece of pieces) {
    const last = runs.at(-1);
    const isWhole = piece.fromHour === 0 && piece.toHour === HOURS_PER_DAY;
    if (isWhole && last?.fromHour === 0 && last.toHour === HOURS_PER_DAY && last.day + last.days === piece.day) last.days += 1;
    else runs.push({ ...piece, days: 1 });
  }
  return runs;
}

function round(amount: number): number {
  return Math.round(amount * 100) / 100;
}
