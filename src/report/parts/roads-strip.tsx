import type { JSX } from "preact";
import type { RoadBound, RuleDecision } from "../../result/decision.js";
import { roundedOutward } from "../decimals.js";
import { amountText } from "../format.js";
import { type Traced, rowsAt } from "../traced.js";
import { Datum } from "./datum.js";

const roadWords: Readonly<Record<RoadBound["road"], string>> = { counting: "Counted", design: "By design" };

/** The axis runs over whole decades, at least from 0.1 to 10. */
const LEAST = { from: -1, to: 1 } as const;
const ROW_PX = 46;
const HEAD_PX = 24;

/**
 * Both roads on one axis of wrong firings a year, in decades, with the limit as a post. A bar is open to the left where the bound says at
 * most, runs off to the right where it says at least, and is hollow where it passes the limit or does not count.
 */
export function RoadsStrip({ decision, limit, labelledBy }: { decision: Traced<RuleDecision>; limit: number | null; labelledBy: string }): JSX.Element {
  const roads = rowsAt(decision, "roads");
  const amounts = [...roads.flatMap(({ of }) => (of.perYear === null || of.perYear <= 0 ? [] : [of.perYear])), ...(limit === null || limit <= 0 ? [] : [limit])];
  const first = Math.min(LEAST.from, ...amounts.map((one) => Math.floor(Math.log10(one))));
  const last = Math.max(LEAST.to, ...amounts.map((one) => Math.ceil(Math.log10(one))));
  const share = (perYear: number): number => Math.min(1, Math.max(0, (Math.log10(Math.max(perYear, 10 ** first)) - first) / (last - first)));
  const bottom = HEAD_PX + roads.length * ROW_PX;
  const decades = Array.from({ length: last - first + 1 }, (_, i) => first + i);
  return (
    <>
      <svg class="roads-strip" width="100%" height={bottom + 22} role="img" aria-labelledby={labelledBy} focusable="false">
        {decades.map((power, i) => (
          <>
            <line class="grid" x1={percent(i / (last - first))} x2={percent(i / (last - first))} y1={HEAD_PX} y2={bottom} />
            <text class="quiet" x={percent(i / (last - first))} y={bottom + 16} text-anchor={i === 0 ? "start" : i === decades.length - 1 ? "end" : "middle"}>
              {amountText(Number(`1e${power}`))}
            </text>
          </>
        ))}
        {limit === null || limit <= 0 ? null : (
          <>
            <line class="post" x1={percent(share(limit))} x2={percent(share(limit))} y1={HEAD_PX - 6} y2={bottom} />
            <text class="lane-name" x={percent(share(limit))} y="12" text-anchor={share(limit) > 0.8 ? "end" : share(limit) < 0.2 ? "start" : "middle"}>
              your limit {amountText(limit)}
            </text>
          </>
        )}
        {roads.map(({ of }, i) => (
          <Road of={of} y={HEAD_PX + i * ROW_PX} share={share} limit={limit} />
        ))}
      </svg>
      <p class="bounds said">
        {roads.map((road, i) => (
          <>
            {i > 0 ? " " : ""}
            {roadWords[road.of.road]}: {road.of.perYear === null ? null : (
              <>
                {road.of.side} <Datum at={road} path="perYear" as={road.of.side} /> a year,{" "}
              </>
            )}
            {road.of.text}.
          </>
        ))}
      </p>
    </>
  );
}

function Road({ of: { road, side, perYear, holds, text }, y, share, limit }: { of: RoadBound; y: number; share: (perYear: number) => number; limit: number | null }): JSX.Element {
  const name = (
    <text class="halo" x="0" y={y + 13}>
      <tspan class="road-name">{roadWords[road]}:</tspan> {text}
    </text>
  );
  if (perYear === null) return name;
  const at = share(perYear);
  const solid = holds && (side === "at least" || limit === null || perYear <= limit);
  const words = `${side} ${amountText(roundedOutward(perYear, 2, side === "at most" ? "up" : "down"))}`;
  const leftward = side === "at least" ? at > 0.3 : at > 0.8;
  return (
    <>
      {name}
      {side === "at least" ? (
        <rect class="road beyond" x={percent(at)} y={y + 19} width={percent(1 - at)} height="10" />
      ) : (
        <rect class={`road ${solid ? "within" : holds ? "hollow" : "hollow uncounted"}`} x="0" y={y + 19} width={percent(Math.max(0.004, at))} height="10" />
      )}
      <text class={side === "at least" ? "cause halo" : "lane-name halo"} x={percent(at)} dx={leftward ? -6 : 6} y={y + 29} text-anchor={leftward ? "end" : "start"}>
        {words}
      </text>
    </>
  );
}

function percent(share: number): string {
  return `${Math.round(share * 10_000) / 100}%`;
}
