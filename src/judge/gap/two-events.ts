import { cross, group } from "d3-array";
import { durationText } from "../../ground/duration.js";
import type { Expression, TurnedAtom } from "../../site/expression.js";
import { expressionText } from "../../site/expression-text.js";
import type { SubjectClass } from "../../site/site.js";
import { ON } from "../../timeline/timeline.js";
import { turned } from "../../timeline/turned.js";
import { firingOutcome, within } from "../replay/firing-outcomes.js";
import type { RuleOverHistory } from "../replay/replay.js";
import { isAtom, type Atom } from "../rule/condition.js";
import { decidingAtoms } from "../rule/deciding-atoms.js";
import { confirmedTimeline, witnessesOf } from "../rule/facts.js";
import { rightWhenText } from "./site-text.js";

/** A firing that is right, though by other events than those the rule saw, or by two that have nothing to do with one another. */
export interface TwoEventsFiring {
  /** Epoch milliseconds. */
  readonly at: number;
  /**
   * `another`: the rule went by one subject, and another of its class made it right. `apart`: what made it right are
   * changes too far apart to be one arrival or departure.
   */
  readonly how: "another" | "apart";
  readonly sentence: string;
  /** The `right_when`, as site-file text, by which this firing would not be right. Null where shorter windows do not do that. */
  readonly rightWhen: string | null;
}

/** A subject's turn that makes a firing right. */
interface RightTurn {
  readonly atom: TurnedAtom;
  readonly subjectClass: SubjectClass;
  readonly at: number;
}

/**
 * The firings known to be right that rest on two different events, in time order. They are no gap, as `right_when` calls
 * them right; they show what it does not ask for. Changes further apart than the site's `join` are two events. Where
 * several subjects of a class would do, those count whose turn is nearest to the other classes', give or take the
 * rule's tolerance.
 */
export function twoEvents(rule: RuleOverHistory): TwoEventsFiring[] {
  const shorter = shorterWindows(rule.spec.rightWhen, rule.site.joinMs);
  let retold: ReturnType<typeof witnessesOf> | null = null;
  const toldApart = (at: number): string | null => {
    retold ??= witnessesOf(rule, rule.history, shorter);
    return firingOutcome(at, rule, retold.outside) === "right" ? null : rightWhenText(shorter, rule.site);
  };
  return rule.replayed.firings.flatMap((at) => {
    const found = differentEvents(at, rule);
    return found === null ? [] : [{ at, ...found, rightWhen: toldApart(at) }];
  });
}

function differentEvents(at: number, rule: RuleOverHistory): Pick<TwoEventsFiring, "how" | "sentence"> | null {
  const { spec, site, tolerance, replayed, witnesses: { outside } } = rule;
  const { firstOn } = within(outside.truth, at, at + tolerance.earlyMs);
  if (firstOn === null) return null;
  const subjectOf = new Map(site.signals.map(({ id, subject }) => [id, subject]));
  const classOf = new Map(site.subjects.map(({ id, class: subjectClass }) => [id, subjectClass]));
  const seen = decidingAtoms(spec.when, replayed.parts, at).map(({ atom }) => ({ atom, subject: subjectOf.get(atom.ref) ?? atom.ref }));
  const deciding = decidingAtoms(outside.expression, outside.parts, firstOn);
  const turns = deciding.flatMap(({ atom, state }) => (atom.op === "turned" && state === ON ? rightTurn(atom, firstOn, classOf.get(atom.ref), rule) : []));
  const nearest = nearestTogether(turns, tolerance.withinMs);

  for (const [subjectClass, saw] of group(seen, ({ subject }) => classOf.get(subject))) {
    const fits = deciding.map(({ atom }) => atom).filter((atom) => classOf.get(atom.ref) === subjectClass && !turns.some((turn) => turn.atom === atom && !nearest.turns.includes(turn)));
    if (fits.length === 0 || fits.some((atom) => saw.some(({ subject }) => subject === atom.ref))) continue;
    return { how: "another", sentence: `The rule went by ${atomList(saw.map(({ atom }) => atom), rule)}; what made it right is ${atomList(fits, rule)}.` };
  }
  const [first, last] = [nearest.closest[0], nearest.closest.at(-1)];
  if (first === undefined || last === undefined || last.at - first.at <= site.joinMs) return null;
  const apart = durationText(last.at - first.at);
  return { how: "apart", sentence: `${turnText(first, rule)} ${apart} before ${turnText(last, rule)}: changes more than ${durationText(site.joinMs)} apart are not one event.` };
}

function rightTurn(atom: TurnedAtom, instant: number, subjectClass: SubjectClass | undefined, { witnesses: { outside }, site }: RuleOverHistory): RightTurn[] {
  const reference = outside.references.get(atom.ref);
  if (reference === undefined || subjectClass === undefined) return [];
  const all = turned(confirmedTimeline(reference, "verified"), atom.to, { bridgeMs: site.bridgeMs, barriers: reference.barriers ?? [] });
  const last = all.findLast(({ at }) => at <= instant);
  return last === undefined ? [] : [{ atom, subjectClass, at: last.at }];
}

/**
 * One turn of each class, those that lie closest together, in time order; and every turn that with some of the others
 * lies as close, give or take `slackMs`.
 */
function nearestTogether(turns: readonly RightTurn[], slackMs: number): { readonly closest: readonly RightTurn[]; readonly turns: readonly RightTurn[] } {
  const byClass = [...group(turns, ({ subjectClass }) => subjectClass).values()];
  // One class alone has nothing to be near to.
  if (byClass.length < 2) return { closest: [], turns };
  const choices = byClass.reduce<RightTurn[][]>((begun, next) => cross(begun, next, (chosen, one) => [...chosen, one]), [[]]);
  const inTime = choices.map((choice) => choice.toSorted((a, b) => a.at - b.at)).sort((a, b) => spanMs(a) - spanMs(b));
  const closest = inTime[0] ?? [];
  return { closest, turns: inTime.filter((choice) => spanMs(choice) <= spanMs(closest) + slackMs).flat() };
}

function spanMs(inTime: readonly RightTurn[]): number {
  return (inTime.at(-1)?.at ?? 0) - (inTime[0]?.at ?? 0);
}

/** The expression with every turn asked for within `mostMs` at the longest. */
function shorterWindows(part: Expression, mostMs: number): Expression {
  if (isAtom(part)) return part.op === "turned" ? { ...part, withinMs: Math.min(part.withinMs, mostMs) } : part;
  return part.op === "not" ? { ...part, of: shorterWindows(part.of, mostMs) } : { ...part, of: part.of.map((one) => shorterWindows(one, mostMs)) };
}

function atomList(atoms: readonly Atom[], { site }: RuleOverHistory): string {
  return [...new Set(atoms.map((atom) => expressionText(atom, site)))].join(" and ");
}

/** `mira turned here`, without the window. */
function turnText({ atom }: RightTurn, rule: RuleOverHistory): string {
  return expressionText(atom, rule.site).replace(/ within .*$/, "");
}
