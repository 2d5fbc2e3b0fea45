import { faults, type Fault } from "../../result/trials.js";
import type { Expression } from "../../site/expression.js";
import type { Timeline } from "../../timeline/timeline.js";
import { accountOf, heardLive, type RuleOverHistory } from "../replay/replay.js";
import { isAtom, refsOfAtom } from "../rule/condition.js";
import { evaluateParts, timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";
import type { FaultedHistories } from "./faults.js";
import { lookUp } from "../../ground/look-up.js";

/** A rule's condition with a fault in all of the given signals. */
export type FaultedCondition = (fault: Fault, signals: readonly string[]) => Timeline;

/**
 * Prepares to put faults into a rule. Evaluates only the parts that contain a faulted signal, and each atom once for
 * each fault.
 */
export function makeFaultedCondition(rule: RuleOverHistory, histories: FaultedHistories): FaultedCondition {
  const { spec, site, history, replayed } = rule;
  const when = paired(spec.when);
  const names = namesByPart(when);
  const account = (ref: string): ReturnType<typeof accountOf> => accountOf(rule, history.accounts, ref);
  // Pairing leaves the atoms the same objects, so their timelines are known from the replay.
  const plain = evaluateParts(when, (ref) => heardLive(account(ref)), site.bridgeMs, replayed.parts);
  const atoms = new Map<Fault, Map<Expression, Timeline>>(faults.map((fault) => [fault, new Map()]));
  return (fault, signals) => {
    const worked = lookUp(atoms, fault);
    const touched = (part: Expression): boolean => signals.some((signal) => lookUp(names, part).has(signal));
    const known: Pick<EvaluatedParts, "get"> = { get: (part) => (touched(part) ? worked.get(part) : plain.get(part)) };
    const parts = evaluateParts(when, (ref) => histories(account(ref), fault), site.bridgeMs, known);
    for (const [part, timeline] of parts) if (isAtom(part) && touched(part)) worked.set(part, timeline);
    return timelineOfPart(when, parts);
  };
}

/**
 * The same condition with every "all" and "any" of more than two operands split into halves, and those again. Kleene's
 * "and" and "or" are associative, so its truth is the same at every instant; but a change of one operand in a hundred
 * costs seven joins instead of a hundred. "At least k" stays whole: it has no such halves.
 */
function paired(expression: Expression): Expression {
  switch (expression.op) {
    case "all":
    case "any":
      return halves(expression.op, expression.of.map(paired));
    case "atLeast":
      return { ...expression, of: expression.of.map(paired) };
    case "not":
      return { op: "not", of: paired(expression.of) };
    case "is":
    case "turned":
      return expression;
  }
}

function halves(op: "all" | "any", of: readonly Expression[]): Expression {
  if (of.length <= 2) return { op, of };
  const middle = of.length >>> 1;
  return { op, of: [half(op, of.slice(0, middle)), half(op, of.slice(middle))] };
}

function half(op: "all" | "any", of: readonly Expression[]): Expression {
  const [only, ...others] = of;
  return only !== undefined && others.length === 0 ? only : halves(op, of);
}

/** For every part of the condition, the names it contains. */
function namesByPart(expression: Expression): ReadonlyMap<Expression, ReadonlySet<string>> {
  const found = new Map<Expression, ReadonlySet<string>>();
  const visit = (part: Expression): ReadonlySet<string> => {
    const names = new Set(isAtom(part) ? refsOfAtom(part) : part.op === "not" ? visit(part.of) : part.of.flatMap((one) => [...visit(one)]));
    found.set(part, names);
    return names;
  };
  visit(expression);
  return found;
}
