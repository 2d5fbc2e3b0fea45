import type { JSX } from "preact";
import type { WorkOrder } from "../../result/fleet.js";
import { HATCH_ID } from "../charts/theme.js";

const LANE_PX = 24;
const HOURS = 24;
const round = (value: number): number => Math.round(value * 100) / 100;

/**
 * The month of a place: a column a day, hours up. Brick and full width where the sensor was wrong, grey and thin where it
 * was silent, hatched where its export falls short; a brick line hangs from the top where it flickered, the longer the more often. Below it another
 * sensor of the same place.
 */
export function OrderStrip({ strip, label }: { strip: WorkOrder["strip"]; label: string }): JSX.Element | null {
  const days = Math.max(0, ...strip.map(({ wrong }) => wrong.length));
  if (days === 0) return null;
  const height = LANE_PX * strip.length;
  const mostFlickers = Math.max(...strip.flatMap(({ flickers }) => flickers));
  return (
    <svg class="order-strip" width="100%" height={height + 2} viewBox={`0 0 ${days} ${height + 2}`} preserveAspectRatio="none" role="img" aria-label={label}>
      {strip.map(({ wrong, silent, hidden, flickers }, lane) => {
        const foot = LANE_PX * (lane + 1);
        return (
          <>
            <path class="hidden" fill={`url(#${HATCH_ID})`} d={bars(hidden, foot, 0, 1)} />
            <path class="silent" d={bars(silent, foot, 0.36, 0.28)} />
            <path class="wrong" d={bars(wrong, foot, 0.06, 0.88)} />
            <path class="flickers" d={lines(flickers, foot - LANE_PX + 3, mostFlickers)} />
            <path class="frame" vector-effect="non-scaling-stroke" d={`M0 ${foot}H${days}`} />
          </>
        );
      })}
    </svg>
  );
}

/** A bar a day, as high as its hours; nothing is lower than can be seen. */
function bars(hours: readonly number[], foot: number, left: number, wide: number): string {
  return hours
    .map((amount, day) => {
      if (amount <= 0) return "";
      const high = Math.max(2, (Math.min(amount, HOURS) / HOURS) * (LANE_PX - 4));
      return `M${round(day + left)} ${round(foot - high)}h${wide}v${round(high)}h${-wide}z`;
    })
    .join("");
}

/** A line a day, as long as its count beside the most on any day. */
function lines(counts: readonly number[], top: number, most: number): string {
  return counts.map((count, day) => (count <= 0 ? "" : `M${round(day + 0.42)} ${top}h0.16v${round(Math.max(2, (count / most) * (LANE_PX - 6)))}h-0.16z`)).join("");
}
