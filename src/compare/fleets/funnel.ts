import { sum } from "d3-array";
import type { Fleet, FleetSignalFinding, WorkOrder } from "../../result/fleet.js";
import { poissonLimits } from "../../statistics/poisson-limits.js";

/** One in a thousand on either side: with some hundred sensors hardly one lies beyond it by chance. Our own choice. */
const CONFIDENCE = 0.998;
/** Numbers of changes at which the limit is worked out. */
const STEPS = [5, 8, 12, 20, 30, 50, 80, 120, 200, 300, 500, 800, 1200, 2000, 3000];

/** How much a sensor with so many changes may get wrong, by what those that are not listed get wrong (Poisson, exact). */
export function funnelOf(signals: readonly FleetSignalFinding[], orders: readonly WorkOrder[]): Fleet["funnel"][number][] {
  const listed = new Set(orders.flatMap(({ site, sensors }) => sensors.map((one) => JSON.stringify([site, one]))));
  const others = signals.filter(({ site, signal }) => !listed.has(JSON.stringify([site, signal])));
  const [wrong, turns] = [sum(others, (one) => one.missedTurns + one.phantoms), sum(others, (one) => one.turns)];
  if (turns === 0) return [];
  return STEPS.map((step) => [step, Math.min(1, poissonLimits((wrong / turns) * step, CONFIDENCE).high / step)]);
}
