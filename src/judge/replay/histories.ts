import type { ReferenceBook } from "../../truth/reference/reference.js";
import { timelineOfPart, type EvaluatedParts } from "../rule/evaluate.js";
import { replay } from "./replay.js";
import type { SignalAccount } from "../../truth/signals/account.js";
import { expressionText } from "../../site/expression-text.js";
import type { Expression } from "../../site/expression.js";
import type { Site } from "../../site/site.js";
import type { ConditionPart, Histories } from "../../result/histories-schema.js";
import { stepsText } from "../../result/history-steps.js";

/** What every signal said, what most likely was so, and what became of each part of each rule, over the whole period. */
export function historiesOf(site: Site, accounts: ReadonlyMap<string, SignalAccount>, book: ReferenceBook): Histories {
  return {
    signals: site.signals.flatMap(({ id, subject }) => {
      const account = accounts.get(id);
      return account === undefined ? [] : [{ signal: id, subject, steps: stepsText(account.live) }];
    }),
    subjects: site.subjects.map(({ id }) => ({ subject: id, steps: stepsText(book(id, []).timeline) })),
    rules: site.rules.map((rule) => {
      const { condition, parts } = replay(rule, accounts, site.bridgeMs);
      return { rule: rule.name, restMs: rule.restMs, steps: stepsText(condition), parts: conditionParts(rule.when, parts, site) };
    }),
  };
}

function conditionParts(whole: Expression, evaluated: EvaluatedParts, site: Site): ConditionPart[] {
  const parts: ConditionPart[] = [];
  const places = new Map<Expression, number>();
  const place = (part: Expression): number => {
    const known = places.get(part);
    if (known !== undefined) return known;
    const made = part.op === "is" || part.op === "turned" ? atom(part) : compound(part);
    places.set(part, parts.push(made) - 1);
    return parts.length - 1;
  };
  const atom = (part: Expression): ConditionPart => ({ op: "atom", count: null, of: [], text: expressionText(part, site), steps: stepsText(timelineOfPart(part, evaluated)) });
  const compound = (part: Exclude<Expression, { op: "is" | "turned" }>): ConditionPart => ({
    op: part.op,
    count: part.op === "atLeast" ? part.count : null,
    of: (part.op === "not" ? [part.of] : part.of).map(place),
    text: "",
    steps: null,
  });
  place(whole);
  return parts;
}
