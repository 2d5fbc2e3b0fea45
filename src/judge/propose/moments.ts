import type { Proposal, ProposalMoment } from "../../result/proposals.js";
import type { PreparedRule } from "../rule/prepare.js";
import type { Mended } from "./reason.js";
import type { Judged, JudgedFiring, JudgedWanted } from "./yardstick.js";

/** More moments than this are not listed one by one. */
const MOST_MOMENTS = 12;
const worstFirst = ["wrong", "looks wrong", "missed", "late"] as const;

/** What another rule would have done at the present rule's wrong firings and misses, over the whole history. */
export function momentsOf(present: Judged, other: Judged, { tolerance }: PreparedRule): Pick<Proposal, "moments" | "mended"> {
  const fired = present.firings.filter(isWrong).map(({ at, outcome }): ProposalMoment => ({ at, was: outcome === "wrong" ? "wrong" : "looks wrong", becomes: firesNear(other, at, tolerance.withinMs) ? "fires too" : "does not fire" }));
  const wanted = failures(present, other).map(({ at, was, becomes }): ProposalMoment => ({ at, was, becomes: becomes === "served" ? "in time" : becomes }));
  const all = [...fired, ...wanted];
  const worst = all.toSorted((a, b) => worstFirst.indexOf(a.was) - worstFirst.indexOf(b.was)).slice(0, MOST_MOMENTS);
  return {
    moments: worst.sort((a, b) => a.at - b.at),
    mended: {
      wrong: fired.filter(({ becomes }) => becomes === "does not fire").length,
      wrongOf: fired.length,
      missed: wanted.filter(({ becomes }) => becomes === "in time").length,
      missedOf: wanted.length,
    },
  };
}

/** The moments that the other rule mends. */
export function mendedBy(present: Judged, other: Judged, { tolerance }: PreparedRule): Mended {
  const wantedBy = new Map(other.wanted.map((one) => [one.at, one]));
  return {
    wrongAt: present.firings.filter((one) => isWrong(one) && !firesNear(other, one.at, tolerance.withinMs)).map(({ at }) => at),
    servedAt: failures(present, other).flatMap(({ at, becomes }) => (becomes === "served" ? (wantedBy.get(at)?.firingAt ?? []) : [])),
  };
}

function isWrong({ outcome }: JudgedFiring): boolean {
  return outcome === "wrong" || outcome === "looks wrong";
}

function firesNear({ firings }: Judged, at: number, withinMs: number): boolean {
  return firings.some((one) => Math.abs(one.at - at) <= withinMs);
}

function failures(present: Judged, other: Judged): { readonly at: number; readonly was: "late" | "missed"; readonly becomes: JudgedWanted["outcome"] }[] {
  return present.wanted.flatMap(({ at, outcome }, i) => (outcome === "served" ? [] : [{ at, was: outcome, becomes: other.wanted[i]?.outcome ?? "missed" }]));
}
