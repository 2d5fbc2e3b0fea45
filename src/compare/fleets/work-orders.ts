import { csvText } from "../../ground/csv-text.js";
import type { Fleet } from "../../result/fleet.js";

const columns = [
  "key", "month", "kind", "state", "priority", "site", "place", "sensors", "mode", "model", "firmware", "first_seen", "last_seen", "months_open",
  "turns", "wrong", "silent_hours", "wrong_share_low", "nights_lost", "rules", "who", "part", "reason", "next_step", "page",
] as const;

/**
 * work-orders.csv: one row for everything to do and everything that was mended, in the order of `priority`. Days are
 * ISO dates, `month` is the first day of the latest audit; lists are joined by semicolons.
 */
export function workOrdersCsv(fleet: Pick<Fleet, "orders">): string {
  return csvText(
    columns,
    fleet.orders.map((one) => [
      one.key, one.month, one.kind, one.state, one.priority, one.site, one.place, one.sensors.join("; "), one.mode, one.model, one.firmware,
      one.firstSeen, one.lastSeen, one.monthsOpen, one.turns, one.wrong, one.silentHours, one.wrongShareLow, one.nightsLost, one.rules.join("; "),
      one.who, one.part, one.reason, one.nextStep, one.page,
    ]),
  );
}
