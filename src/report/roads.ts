import { capitalised } from "../ground/first-letter.js";
import type { DesignCondition, DesignFigures, LimitClaim } from "../result/design.js";
import type { RuleFinding } from "../result/rules.js";

/** The two ways to show how often a rule acts wrongly. */
export type Road = "counting" | "design";

/** What each road is called in the report. */
export const roadNames: Readonly<Record<Road, string>> = { counting: "by counting", design: "by design" };

/** Where a road's limits stand in the claims of a rule. */
export const roadKeys = { counting: "byCounting", design: "byDesign" } as const satisfies Record<Road, keyof LimitClaim>;

/** The claims that the verdict rests on: those of all periods where there are several. */
export function claimsOf({ cumulated, claims }: Pick<RuleFinding, "cumulated" | "claims">): readonly LimitClaim[] {
  return cumulated?.claims ?? claims;
}

/** The figures of the road of design that the verdict rests on; null where the rule has no two parts. */
export function designFiguresOf({ cumulated, design }: Pick<RuleFinding, "cumulated" | "design">): DesignFigures | null {
  return cumulated === null ? (design?.figures ?? null) : cumulated.design;
}

/**
 * The roads that support any limit within the months looked at, the quicker first: the one that meets the limit of the
 * rule sooner, else the one that supports the smaller limit in the end. A tie goes to counting, which assumes less.
 */
export function roadsAhead(claims: readonly LimitClaim[], limit: number | null): Road[] {
  const inOrder: readonly Road[] = ["counting", "design"];
  const meets = (road: Road): number =>
    limit === null ? Infinity : (claims.find((one) => (one[roadKeys[road]] ?? Infinity) <= limit)?.moreMonths ?? Infinity);
  const inTheEnd = (road: Road): number => claims.at(-1)?.[roadKeys[road]] ?? Infinity;
  const supporting = inOrder.filter((road) => claims.some((one) => one[roadKeys[road]] !== null));
  return supporting.toSorted((a, b) => compared(meets(a), meets(b)) || compared(inTheEnd(a), inTheEnd(b)));
}

/** Why a road supports no limit now, as a sentence; null where it supports one, or there is nothing to say. */
export function whyNoClaim(rule: RuleFinding, road: Road): string | null {
  const claims = claimsOf(rule);
  const [now] = claims;
  if (now === undefined || now[roadKeys[road]] !== null) return null;
  const later = claims.find((one) => one[roadKeys[road]] !== null);
  const nothing = later === undefined ? `${capitalised(roadNames[road])} nothing can be claimed.` : `${capitalised(roadNames[road])} nothing can be claimed yet.`;
  if (road === "counting") {
    const years = rule.cumulated?.yearsSeen ?? rule.evidence.yearsSeen;
    return `${nothing} ${years === 0 ? "There was no time in which the rule could be judged." : "At some hours of the day nobody could confirm a firing."}`;
  }
  if (rule.design === null) return `${nothing} This road was not looked at.`;
  const failed = designConditions(rule).find(({ holds }) => !holds);
  return failed === undefined ? nothing : `${nothing} ${failed.text}`;
}

/** Everything that must hold before design can clear a rule: of the rule itself, then of what was seen. */
function designConditions(rule: RuleFinding): readonly DesignCondition[] {
  return [...(rule.design?.conditions ?? []), ...(designFiguresOf(rule)?.conditions ?? [])];
}

/** Less, equal or more; differences of infinities are no numbers. */
function compared(a: number, b: number): number {
  return a === b ? 0 : a < b ? -1 : 1;
}
