import { MINUTE_MS, HOUR_MS, SECOND_MS } from "../../ground/units.js";
import { isAtom, type Atom } from "../rule/condition.js";
import { evaluateParts, timelineOfPart } from "../rule/evaluate.js";
import { actedOn, servingOf, type WantedStretch } from "../replay/acting.js";
import { accountOf, heardLive, type RuleOverHistory } from "../replay/replay.js";
import type { Expression } from "../../site/expression.js";

/** Lengths of time as people write them, in milliseconds, rising. Our own choice. */
const WRITTEN_MS: readonly number[] = [
  ...[1, 2, 3, 5, 10, 15, 20, 30, 45].map((seconds) => seconds * SECOND_MS),
  ...[1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 45].map((minutes) => minutes * MINUTE_MS),
  ...[1, 1.5, 2, 3].map((hours) => hours * HOUR_MS),
];

/** What of an atom is another length of time. */
export type Setting = "withinMs" | "heldMs" | "recentlyMs";

/**
 * The least (of `heldMs`: the greatest) length of time as people write it, at or beyond `neededMs`, with which the rule
 * would have served the wanted stretch in time, in milliseconds; found by replaying the rule with it. Null where none of
 * those would.
 */
export function servingValue(rule: RuleOverHistory, stretch: WantedStretch, atom: Atom, setting: Setting, neededMs: number): number | null {
  const longer = setting !== "heldMs";
  const candidates = longer ? WRITTEN_MS.filter((ms) => ms >= neededMs) : [0, ...WRITTEN_MS].filter((ms) => ms <= neededMs).reverse();
  // If the first value just misses because of the rule's other parts, the next may serve. More are not worth a replay.
  return candidates.slice(0, 2).find((ms) => servesWith(rule, stretch, atom, { [setting]: ms })) ?? null;
}

/** Whether the rule would serve the stretch with another value in one of its atoms, all else as it was. */
export function servesWith(rule: RuleOverHistory, stretch: WantedStretch, atom: Atom, value: Partial<Record<Setting, number>>): boolean {
  const { spec, site, replayed, history } = rule;
  const when = withAtom(spec.when, atom, { ...atom, ...value });
  const parts = evaluateParts(when, (ref) => heardLive(accountOf(rule, history.accounts, ref)), site.bridgeMs, replayed.parts);
  return servingOf(stretch, actedOn(timelineOfPart(when, parts), spec.restMs), rule).outcome === "served";
}

/** The condition with one atom replaced wherever it stands; parts without it stay the very same. */
function withAtom(part: Expression, atom: Atom, by: Atom): Expression {
  if (part === atom) return by;
  if (isAtom(part)) return part;
  if (part.op === "not") {
    const of = withAtom(part.of, atom, by);
    return of === part.of ? part : { ...part, of };
  }
  const of = part.of.map((operand) => withAtom(operand, atom, by));
  return of.every((operand, i) => operand === part.of[i]) ? part : { ...part, of };
}
