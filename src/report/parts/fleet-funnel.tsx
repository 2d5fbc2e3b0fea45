import type { JSX } from "preact";
import type { Fleet } from "../../result/fleet.js";

const [WIDE, HIGH, FOOT, LEFT] = [560, 250, 34, 40];
const MOST_TURNS = 3000;
const LEAST_TURNS = 5;
const TICKS_X = [10, 30, 100, 300, 1000];
const TICKS_Y = [0.01, 0.05, 0.1, 0.2, 0.4, 0.6, 1];

const x = (turns: number): number => LEFT + ((WIDE - LEFT) * Math.log(Math.max(LEAST_TURNS, Math.min(MOST_TURNS, turns)) / LEAST_TURNS)) / Math.log(MOST_TURNS / LEAST_TURNS);
const y = (share: number): number => HIGH - (HIGH - 12) * Math.sqrt(Math.min(1, share));
const at = (value: number): string => value.toFixed(1);

/** One mark a sensor: how many changes it saw, and what share of them went wrong. Whoever saw little must be far off to be called bad. */
export function FleetFunnel({ fleet }: { fleet: Pick<Fleet, "signals" | "orders" | "funnel"> }): JSX.Element | null {
  const listed = new Set(fleet.orders.filter(({ state }) => state !== "mended").flatMap(({ site, sensors }) => sensors.map((one) => JSON.stringify([site, one]))));
  const marks = fleet.signals.filter(({ turns }) => turns > 0).map((one) => ({ bad: listed.has(JSON.stringify([one.site, one.signal])), x: x(one.turns), y: y((one.missedTurns + one.phantoms) / one.turns) }));
  if (marks.length === 0 || fleet.funnel.length === 0) return null;
  const limit = fleet.funnel.map(([turns, share], i) => `${i === 0 ? "M" : "L"}${at(x(turns))} ${at(y(share))}`).join("");
  return (
    <svg class="funnel" width="100%" viewBox={`0 0 ${WIDE} ${HIGH + FOOT}`} role="img" aria-labelledby="funnel-caption">
      {TICKS_Y.map((share) => (
        <>
          <path class="grid" d={`M${LEFT} ${at(y(share))}H${WIDE}`} />
          <text x={LEFT - 5} y={at(y(share) + 4)} text-anchor="end">{Math.round(share * 100)} %</text>
        </>
      ))}
      {TICKS_X.map((turns) => (
        <text x={at(x(turns))} y={HIGH + 16} text-anchor="middle">{turns}</text>
      ))}
      <text x={WIDE} y={HIGH + 31} text-anchor="end">changes seen</text>
      <path class="limit" d={limit} />
      {marks.filter(({ bad }) => !bad).map((mark) => <circle class="usual" cx={at(mark.x)} cy={at(mark.y)} r="2.4" />)}
      {marks.filter(({ bad }) => bad).map((mark) => <path class="listed" d={`M${at(mark.x - 4)} ${at(mark.y - 4)}l8 8m0 -8l-8 8`} />)}
    </svg>
  );
}
