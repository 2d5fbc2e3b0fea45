import type { JSX } from "preact";
import type { RoadBound, RuleDecision } from "../../result/decision.js";
import { roundedOutward } from "../decimals.js";
import { amountText } from "../format.js";
import { type Traced, rowsAt } from "../traced.js";
import { Datum } from "./datum.js";
import { percent } from "../charts/percent.js";

const roadWords: Readonly<Record<RoadBound["road"], string>> = { counting: "Counted", design: "By design" };

/** The axis runs over whole decades, at least from 0.1 to 10. */
const LEAST = { from: -1, to: 1 } as const;
const BAR_PX = 15;
const ROW_PX = 22;
const BAR_TOP_PX = (ROW_PX - BAR_PX) / 2;

/**
 * Both roads on one axis of wrong firings a year, in decades, with the limit as a post. A bar is open to the left where the bound says at
 * most, runs off to the right where it says at least, and is hollow where it passes the limit or does not count. What each rests on stands
 * above its bar, as text of the page, so that it breaks where there is little room.
 */
export function RoadsStrip({ decision, limit, labelledBy }: { decision: Traced<RuleDecision>; limit: number | null; labelledBy: string }): JSX.Element {
  const roads = rowsAt(decision, "roads");
  const post = limit === null || limit <= 0 ? null : limit;
  const amounts = [...roads.flatMap(({ of }) => (of.perYear === null || of.perYear <= 0 ? [] : [of.perYear])), ...(post === null ? [] : [post])];
  const first = Math.min(LEAST.from, ...amounts.map((one) => Math.floor(Math.log10(one))));
  const last = Math.max(LEAST.to, ...amounts.map((one) => Math.ceil(Math.log10(one))));
  const share = (perYear: number): number => Math.min(1, Math.max(0, (Math.log10(Math.max(perYear, 10 ** first)) - first) / (last - first)));
  const decades = Array.from({ length: last - first + 1 }, (_, i) => ({ power: first + i, at: i / (last - first) }));
  return (
    <>
      <div class="roads-strip" role="img" aria-labelledby={labelledBy}>
        {post === null ? null : (
          <svg width="100%" height="18" aria-hidden="true">
            <text class="lane-name" x={percent(share(post))} y="12" text-anchor={anchorAt(share(post))}>
              your limit {amountText(post)}
            </text>
          </svg>
        )}
        {roads.map(({ of }) => (
          <>
            <p>
              <b>{roadWords[of.road]}:</b> {of.text}
            </p>
            {of.perYear === null ? null : <svg width="100%" height={ROW_PX} aria-hidden="true">
              {decades.map(({ at }) => (
                <line class="grid" x1={percent(at)} x2={percent(at)} y1="0" y2={ROW_PX} />
              ))}
              <Bar of={of} at={share(of.perYear)} limit={limit} />
              {post === null ? null : <line class="post" x1={percent(share(post))} x2={percent(share(post))} y1="0" y2={ROW_PX} />}
              <BoundText of={of} at={share(of.perYear)} postAt={post === null ? null : share(post)} />
            </svg>}
          </>
        ))}
        <svg width="100%" height="16" aria-hidden="true">
          {decades.map(({ power, at }) => (
            <text class="quiet" x={percent(at)} y="12" text-anchor={at === 0 ? "start" : at === 1 ? "end" : "middle"}>
              {amountText(Number(`1e${power}`))}
            </text>
          ))}
        </svg>
      </div>
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

/** A bound as a bar. */
function Bar({ of: { side, perYear, holds }, at, limit }: { of: RoadBound; at: number; limit: number | null }): JSX.Element {
  const isSolid = holds && (limit === null || (perYear ?? 0) <= limit);
  return side === "at least" ? (
    <rect class="road beyond" x={percent(at)} y={BAR_TOP_PX} width={percent(Math.max(0.01, 1 - at))} height={BAR_PX} />
  ) : (
    <rect class={`road ${isSolid ? "within" : holds ? "hollow" : "hollow uncounted"}`} x="0" y={BAR_TOP_PX} width={percent(Math.max(0.004, at))} height={BAR_PX} />
  );
}

/** The share of the strip that a number takes on a phone. */
const TEXT_SHARE = 0.3;

/** The number of a bound beside the end of its bar; at its beginning where the post of the limit would run through it. */
function BoundText({ of: { side, perYear }, at, postAt }: { of: RoadBound; at: number; postAt: number | null }): JSX.Element {
  const isInside = side === "at most" && at > 1 - TEXT_SHARE;
  const isCrossed = isInside && postAt !== null && postAt > at - TEXT_SHARE && postAt < at;
  const isLeft = !isCrossed && (isInside || (side === "at least" && at > TEXT_SHARE));
  return (
    <text class={side === "at least" ? "cause halo" : "lane-name halo"} x={isCrossed ? "0" : percent(at)} dx={isLeft ? -6 : 6} y={BAR_TOP_PX + 12} text-anchor={isLeft ? "end" : "start"}>
      {side} {amountText(roundedOutward(perYear ?? 0, 2, side === "at most" ? "up" : "down"))}
    </text>
  );
}

function anchorAt(share: number): "start" | "middle" | "end" {
  return share > 0.8 ? "end" : share < 0.2 ? "start" : "middle";
}
