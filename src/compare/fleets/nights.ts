import type { Fleet, WorkOrder } from "../../result/fleet.js";
import { dateOf, type Examined } from "./faults/fault.js";

/** Each rule's days of the latest audits, with the work orders that they are put down to. */
export function fleetNights(round: readonly Examined[], orders: readonly WorkOrder[]): Fleet["nights"][number][] {
  const open = orders.filter(({ state }) => state !== "mended");
  return round.flatMap(({ counts, upkeep }) => {
    const own = open.filter(({ site }) => site === counts.site.name);
    const makes = open.filter(({ kind }) => kind === "update");
    return upkeep.nights.map(({ rule, act, days }) => ({
      site: counts.site.name,
      month: counts.period.label,
      rule,
      act,
      days: days.map(({ day, outcome, signals }) => {
        const owning = own.filter(({ kind, sensors }) => (kind === "export") === (outcome === "unjudged") && (outcome === "unjudged" || sensors.some((one) => signals.includes(one))));
        const made = makes.filter(({ sensors }) => signals.some((one) => sensors.includes(`${counts.site.name}: ${one}`)));
        const found = owning.length > 0 ? owning : made;
        return { day: dateOf(counts, day), outcome, orders: outcome === "served" ? [] : found.map(({ key }) => key), signals };
      }),
    }));
  });
}
