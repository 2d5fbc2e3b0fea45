import { distance, stakeOf, type JudgedRule, type Supposed } from "./stakes.js";
import type { RuleStakes, Stake, UnverifiedMoment } from "../../result/witnesses.js";

const looksFirst = ["wrong", "unclear", "right"] as const;

/** The stakes of one rule as a whole. */
export function ruleStakes(judged: JudgedRule): RuleStakes {
  const { judgement } = judged;
  const { unverified } = judgement.firings;
  const now = stakeOf(judged, {});
  const changing = Array.from({ length: unverified }, (_, i) => i + 1).find((right) => stakeOf(judged, { right }).verdict !== now.verdict);
  return {
    rule: judgement.name,
    unverifiedFirings: unverified,
    unverifiedWanted: judgement.wantedList.filter((one) => !one.verified).length,
    now,
    ifAllRight: stakeOf(judged, { right: unverified }),
    ifAllWrong: stakeOf(judged, { wrong: unverified }),
    fewestRight: changing ?? null,
  };
}

/**
 * Every unverified moment of the rules: first those whose truth alone would change a verdict, then by how far they move
 * a bound. Of equals, what looks wrong comes before what is unclear and what looks right, since there memory is most
 * likely to say something new (our own choice); then by instant. A wanted instant that an unverified firing serves is
 * that firing's moment.
 */
export function unverifiedMoments(judged: readonly JudgedRule[]): UnverifiedMoment[] {
  return judged
    .flatMap(momentsOf)
    .sort((a, b) => Number(b.changesVerdict) - Number(a.changesVerdict) || b.moves - a.moves || looksFirst.indexOf(a.looks) - looksFirst.indexOf(b.looks) || a.at - b.at);
}

function momentsOf(judged: JudgedRule): UnverifiedMoment[] {
  const { rule: { standard: { limits } }, judgement: rule } = judged;
  const now = stakeOf(judged, {});
  // Only a few different suppositions occur, and each costs two quantiles.
  const known = new Map<string, Stake>();
  const suppose = (supposed: Supposed): Stake => {
    const key = JSON.stringify(supposed);
    const stake = known.get(key) ?? stakeOf(judged, supposed);
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
