/** A thread of the fleet study: audits one fleet after another and says what was found. */
import { parentPort } from "node:worker_threads";
import { fleetOf } from "../../../src/compare/fleets/fleet.js";
import type { Counts } from "../../../src/result/counts.js";
import { depotMonth } from "./depot.js";
import { auditedMonth, MONTH, studiedFleet } from "./fleet-month.js";

/** What became of one fleet: for each planted fault whether it is listed, in which mode, and how much it got wrong; and what else was listed. */
export interface FleetAnswer {
  readonly number: number;
  readonly faults: readonly {
    readonly mode: string;
    readonly strength: string;
    readonly listed: boolean;
    readonly as: string | null;
    /** Share of its sensors' true changes that went wrong; null: it is an export that falls short. */
    readonly wrongShare: number | null;
    /** Whether it stands first of its site. */
    readonly first: boolean;
    /** Where it stands in the list of the whole fleet. */
    readonly rank: number | null;
  }[];
  readonly falseAlarms: readonly string[];
}

/** One fleet audited: what its sites' audits counted, and what share of their changes the sensors of each planted fault got wrong. */
export interface AuditedFleet {
  readonly counts: readonly Counts[];
  readonly wrongShares: readonly (number | null)[];
}

parentPort?.on("message", (number: number) => {
  void auditedFleet(number).then((audited) => parentPort?.postMessage(answer(number, audited)));
});

/** Audits fleet `number` through the whole path. */
export async function auditedFleet(number: number): Promise<AuditedFleet> {
  const { depots, faults } = studiedFleet(number);
  const counts: Counts[] = [];
  const wrongShares: (number | null)[] = [];
  for (const depot of depots) {
    const month = depotMonth(depot);
    for (const { of, bay } of faults.filter(({ site }) => site === depot.name)) wrongShares.push(month.wrongShare(of.sensors(bay)));
    counts.push(await auditedMonth(depot, month, MONTH.label));
  }
  return { counts, wrongShares };
}

/** What the list of fleet `number` says of what was planted. */
export function answer(number: number, { counts, wrongShares }: AuditedFleet): FleetAnswer {
  const { faults } = studiedFleet(number);
  const { orders } = fleetOf(counts, { madeAt: 0, madeBy: "study", leftOut: [] });
  const isOf = (order: (typeof orders)[number], fault: (typeof faults)[number]): boolean => order.site === fault.site && fault.of.place(fault.bay).test(order.place);
  return {
    number,
    faults: faults.map((fault, i) => {
      const order = orders.find((one) => isOf(one, fault));
      return {
        mode: fault.of.mode,
        strength: fault.of.strength,
        listed: order !== undefined,
        as: order?.mode ?? null,
        wrongShare: wrongShares[i] ?? null,
        first: order !== undefined && orders.filter(({ site }) => site === fault.site)[0] === order,
        rank: order?.priority ?? null,
      };
    }),
    falseAlarms: orders.filter((order) => !faults.some((fault) => isOf(order, fault))).map(({ site, place, mode, reason }) => `${site}, ${place}: ${mode}: ${reason}`),
  };
}
