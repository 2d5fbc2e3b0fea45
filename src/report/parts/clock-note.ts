import type { Findings } from "../../result/findings.js";

/** Why no clocks are compared, as notes on the data: one sentence, or none where some are or nothing was read. */
export function clockNotes({ signals, clocks }: Pick<Findings, "signals" | "clocks">): string[] {
  if (signals.length === 0 || clocks.some(({ offset }) => offset.value !== null)) return [];
  if (clocks.length === 0) return ["All signals come from one source, so no other clock can be compared with its clock."];
  if (clocks.every(({ subjects }) => subjects.length === 0)) return ["No two sources watch the same subject, so their clocks cannot be compared."];
  return ["No two sources saw the same change, so their clocks cannot be compared."];
}
