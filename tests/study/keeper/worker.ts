/** A thread of the fleet study: audits one fleet after another and says what was found. */
import { parentPort } from "node:worker_threads";
import { fleetOf } from "../../../src/compare/fleets/fleet.js";
import type { Counts } from "../../../src/result/counts.js";
import { auditedDepot, MONTH, studiedFleet } from "./fleet-month.js";

/** What became of one fleet: for each planted fault whether it is listed, in which mode, and how much it got wrong; and what else was listed. */
export interface FleetAnswer {
  readonly number: number;
  readonly faults: readonly { readonly mode: string; readonly strength: string; readonly listed: boolean; readonly as: string | null; readonly wrongShare: number | null; readonly first: boolean }[];
  readonly falseAlarms: readonly string[];
}

parentPort?.on("message", (number: number) => {
  void answer(number).then((found) => parentPort?.postMessage(found));
});

async function answer(number: number): Promise<FleetAnswer> {
  const { depots, faults } = studiedFleet(number);
  const counts: Counts[] = [];
  for (const depot of depots) counts.push(await auditedDepot(depot, MONTH.label));
  const { orders } = fleetOf(counts, { madeAt: 0, madeBy: "study", leftOut: [] });
  const isOf = (order: (typeof orders)[number], fault: (typeof faults)[number]): boolean => order.site === fault.site && fault.of.place(fault.bay).test(order.place);
  return {
    number,
    faults: faults.map((fault) => {
      const order = orders.find((one) => isOf(one, fault));
      const own = counts.find(({ site }) => site.name === fault.site)!.signals.find(({ signal }) => fault.of.place(fault.bay).test(signal));
      const wrongShare = own === undefined || own.turns === 0 ? null : Math.min(1, (own.missedTurns + own.phantoms) / own.turns);
      return { mode: fault.of.mode, strength: fault.of.strength, listed: order !== undefined, as: order?.mode ?? null, wrongShare, first: order !== undefined && orders.filter(({ site }) => site === fault.site)[0] === order };
    }),
    falseAlarms: orders.filter((order) => !faults.some((fault) => isOf(order, fault))).map(({ site, place, mode, reason }) => `${site}, ${place}: ${mode}: ${reason}`),
  };
}
