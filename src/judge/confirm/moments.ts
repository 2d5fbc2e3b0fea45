import type { RuleJudgement, Verdict } from "../judgement.js";
import type { Site } from "../../site/site.js";
import { distance, stakeOf, type Stake, type Supposed } from "./stakes.js";

/** An instant of one rule whose truth nobody outside the rule vouches for. */
export interface UnverifiedMoment {
  /** The firing's id; for a wanted instant the rule's name and a running number among its wanted instants. */
  readonly id: string;
  readonly rule: string;
  readonly sort: "firing" | "wanted";
  readonly at: number;
  /** What all witnesses together make of a firing; a wanted instant always looks right, for they are who saw it. */
  readonly looks: "right" | "wrong" | "unclear";
  /** What the verdict would rest on if the firing was right (or it was indeed wanted), and if not; all else as it is. */
  readonly ifSo: Stake;
  readonly ifNot: Stake;
  /** The larger of the two changes, in limits: see `distance`. */
  readonly moves: number;
  readonly changesVerdict: boolean;
}

/** What of one rule is unverified, and what would come of it. */
export interface RuleStakes {
  readonly rule: string;
  readonly unverifiedFirings: number;
  readonly unverifiedWanted: number;
  readonly now: Stake;
  readonly ifAllRight: Stake;
  readonly ifAllWrong: Stake;
  /** So many unverified firings found right are the fewest that change the verdict; null where not even all do. */
  readonly fewestRight: number | null;
}

const looksFirst = ["wrong", "unclear", "right"] as const;

/** The stakes of one rule as a whole. */
export function ruleStakes(site: Site, rule: RuleJudgement): RuleStakes {
  const { unverified } = rule.firings;
  const now = stakeOf(site, rule, {});
  const changing = Array.from({ length: unverified }, (_, i) => i + 1).find((right) => stakeOf(site, rule, { right }).verdict !== now.verdict);
  return {
    rule: rule.name,
    unverifiedFirings: unverified,
    unverifiedWanted: rule.wantedList.filter((one) => !one.verified).length,
    now,
    ifAllRight: stakeOf(site, rule, { right: unverified }),
    ifAllWrong: stakeOf(site, rule, { wrong: unverified }),
    fewestRight: changing ?? null,
  };
}

/**
 * Every unverified moment of the rules, those first whose truth alone would change a verdict, then by how far they move a
 * bound. Of equals, what looks wrong is asked before what is unclear and what looks right, for there memory is most likely to tell
 * something new (our own choice); then by instant. A wanted instant that an unverified firing serves is that firing's moment.
 */
export function unverifiedMoments(site: Site, rules: readonly RuleJudgement[]): UnverifiedMoment[] {
  return rules
    .flatMap((rule) => momentsOf(site, rule))
    .sort((a, b) => Number(b.changesVerdict) - Number(a.changesVerdict) || b.moves - a.moves || looksFirst.indexOf(a.looks) - looksFirst.indexOf(b.looks) || a.at - b.at);
}

function momentsOf(site: Site, rule: RuleJudgement): UnverifiedMoment[] {
  const now = stakeOf(site, rule, {});
  const limits = site.limits[rule.act] ?? null;
  // Few different suppositions occur, and each costs two quantiles.
  const known = new Map<string, Stake>();
  const suppose = (supposed: Supposed): Stake => {
    const key = JSON.stringify(supposed);
    const stake = known.get(key) ?? stakeOf(site, rule, supposed);
    known.set(key, stake);
    return stake;
  };
  const moment = (parts: Pick<UnverifiedMoment, "id" | "sort" | "at" | "looks">, so: Supposed, not: Supposed): UnverifiedMoment => {
    const [ifSo, ifNot] = [suppose(so), suppose(not)];
    return {
      ...parts,
      rule: rule.name,
      ifSo,
      ifNot,
      moves: Math.max(distance(now, ifSo, limits), distance(now, ifNot, limits)),
      changesVerdict: ifSo.verdict !== now.verdict || ifNot.verdict !== now.verdict,
    };
  };
  const unwanted = (outcome: "served" | "late" | "missed"): Supposed => (outcome === "missed" ? { unwantedMissed: 1 } : { unwantedOther: 1 });
  const firings = rule.firingList
    .filter((firing) => firing.outcome === "unverified")
    .map((firing) => {
      const serves = rule.wantedList.filter((one) => !one.verified && one.firing === firing.id).length;
      return moment({ id: firing.id, sort: "firing", at: firing.at, looks: firing.looks }, { right: 1, wantedServed: serves }, { wrong: 1, unwantedOther: serves });
    });
  const asked = new Set(firings.map((one) => one.id));
  const wanted = rule.wantedList.flatMap((one, i) =>
    one.verified || (one.firing !== null && asked.has(one.firing)) ? [] : [moment({ id: `${rule.name}, wanted ${i + 1}`, sort: "wanted", at: one.at, looks: "right" }, one.outcome === "served" ? { wantedServed: 1 } : { wantedFailed: 1 }, unwanted(one.outcome))],
  );
  return [...firings, ...wanted];
}

/** `clear to enable` and so on, or that it stays. */
export function verdictChange(now: Verdict, then: Verdict): string {
  return now === then ? "the verdict stays" : `the verdict becomes "${then}"`;
}
