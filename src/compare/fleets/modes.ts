import { descending, rollups, sum } from "d3-array";
import type { Fleet, WorkOrder } from "../../result/fleet.js";

/** What fails how often: places that are open, by mode, those that cost most first. */
export function modesOf(orders: readonly WorkOrder[]): Fleet["modes"][number][] {
  const open = orders.filter(({ state }) => state !== "mended");
  return rollups(
    open,
    (of) => ({
      places: of.length,
      wrong: sum(of, ({ wrong }) => wrong),
      silentHours: sum(of, ({ silentHours }) => silentHours),
      nightsLost: sum(of, ({ nightsLost }) => nightsLost),
    }),
    ({ mode }) => mode,
  )
    .map(([mode, rest]) => ({ mode, ...rest }))
    .sort((a, b) => descending(a.nightsLost, b.nightsLost) || descending(a.places, b.places) || descending(a.wrong, b.wrong) || (a.mode < b.mode ? -1 : 1));
}
