import { greatest } from "d3-array";
import { isNight } from "../ground/night.js";
import { HOUR_MS } from "../ground/units.js";
import { localWords } from "../judge/questions/local-words.js";
import type { Scene } from "../result/decision.js";
import type { Undecided } from "../result/findings.js";
import type { RuleFinding } from "../result/rules.js";
import { type BadMoment, sceneOf } from "./scene.js";

/**
 * The moment that shows best what is the matter with a rule: a wrong act before a missed one, one with somebody to blame
 * before one without, at night before by day, the longest first. Null where nothing failed, and where no histories were kept.
 */
export function worstScene(rule: RuleFinding, findings: Undecided): Scene | null {
  if (findings.histories === null) return null;
  const { hour } = localWords(findings.site.timeZone);
  const worst = greatest(badMoments(rule), (one) => rank(one, hour));
  return worst === undefined ? null : sceneOf(worst, rule, { ...findings, histories: findings.histories });
}

function badMoments({ firingList, wantedList }: RuleFinding): BadMoment[] {
  const wrong = firingList.flatMap(({ id, at, outcome, culprit, why }): BadMoment[] => (outcome === "wrong" ? [{ sort: "wrong", at, firing: id, actedAt: at, culprit, why }] : []));
  const failed = wantedList.flatMap(({ at, outcome, firing, delaySeconds, culprit, why }): BadMoment[] =>
    outcome === "served" ? [] : [{ sort: outcome, at, firing, actedAt: delaySeconds === null ? null : at + delaySeconds * 1000, culprit, why }],
  );
  if (wrong.length + failed.length > 0) return [...wrong, ...failed];
  // Nothing is known to be wrong: what nobody confirmed and looks wrong comes nearest to it.
  return firingList.flatMap(({ id, at, outcome, looks, culprit, why }): BadMoment[] => (outcome === "unverified" && looks === "wrong" ? [{ sort: "unverified", at, firing: id, actedAt: at, culprit, why }] : []));
}

/** A day counts no more than a longest lie of as long. */
const LONGEST_MS = 24 * HOUR_MS;

function rank({ sort, at, culprit }: BadMoment, hour: (at: number) => number): number {
  const lasted = culprit === null ? 0 : culprit.from !== null && culprit.to !== null ? culprit.to - culprit.from : (culprit.bySeconds ?? 0) * 1000;
  return (["unverified", "late", "missed", "wrong"].indexOf(sort) * 4 + (culprit === null || culprit.signal === null ? 0 : 2) + (isNight(hour(at)) ? 1 : 0)) * 2 + Math.min(lasted, LONGEST_MS) / LONGEST_MS;
}
