import type { LimitClaim } from "../../result/design.js";
import { countText, figureText } from "../rule/words.js";

/** Which road gets to the limit first, and when; or what each supports in the end. One or two sentences. */
export function roadsAheadText(claims: readonly LimitClaim[], limit: number): string {
  const first = (read: (one: LimitClaim) => number | null): number | null => claims.find((one) => (read(one) ?? Infinity) <= limit)?.moreMonths ?? null;
  const [counting, design] = [first((one) => one.byCounting), first((one) => one.byDesign)];
  if (design !== null && (counting === null || design < counting)) return `By design ${whenText(design)} could show it.`;
  if (counting !== null) return `Counting ${whenText(counting)} without more faults than these would show it.`;
  const last = claims.at(-1);
  if (last === undefined) return "";
  const supported = [
    ...(last.byDesign === null ? [] : [`by design ${figureText(last.byDesign, "up")} a year`]),
    ...(last.byCounting === null ? [] : [`by counting ${figureText(last.byCounting, "up")} a year`]),
  ];
  return supported.length === 0
    ? "More months like these show no limit at all."
    : `Even ${last.moreMonths} more months like these would only show ${supported.join(", ")}.`;
}

function whenText(months: number): string {
  return months === 0 ? "what was seen" : `another ${countText(months, "month", "months")}`;
}
