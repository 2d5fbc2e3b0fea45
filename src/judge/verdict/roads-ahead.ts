import { capitalised } from "../../ground/first-letter.js";
import type { LimitClaim } from "../../result/design.js";
import { countText, figureText, listText } from "../rule/words.js";

/** Which road gets to the limit first, and when; or what each supports in the end. One or two sentences. */
export function roadsAheadText(claims: readonly LimitClaim[], limit: number): string {
  const first = (read: (one: LimitClaim) => number | null): number | null => claims.find((one) => (read(one) ?? Infinity) <= limit)?.moreMonths ?? null;
  const [counting, design] = [first((one) => one.byCounting), first((one) => one.byDesign)];
  if (design !== null && (counting === null || design < counting)) return `${capitalised(whenText(design))} could show it by design.`;
  if (counting !== null) return `${capitalised(whenText(counting))} without more faults than these would show it by counting.`;
  const last = claims.at(-1);
  if (last === undefined) return "";
  const supported = [
    ...(last.byDesign === null ? [] : [`${figureText(last.byDesign, "up", limit)} a year by design`]),
    ...(last.byCounting === null ? [] : [`${figureText(last.byCounting, "up", limit)} a year by counting`]),
  ];
  return supported.length === 0
    ? "More months like these show no limit at all."
    : `Even ${last.moreMonths} more months like these could show no better than ${listText(supported, "or")}.`;
}

function whenText(months: number): string {
  return months === 0 ? "what was seen" : `another ${countText(months, "month", "months")}`;
}
