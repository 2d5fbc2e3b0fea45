import type { Expression } from "../../site/expression.js";

/**
 * The same condition with every "all" and "any" of more than two operands split into halves, and those again. Kleene's "and"
 * and "or" do not mind brackets, so its truth is the same at every instant; but to change one operand of a hundred, only the
 * seven joins above it are worked out anew instead of all hundred operands. "At least k" stays whole: it has no such halves.
 */
export function paired(expression: Expression): Expression {
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
  return of.length === 1 ? of[0]! : halves(op, of);
}

/** For every part of the condition, the names it contains. */
export function namesByPart(expression: Expression): ReadonlyMap<Expression, ReadonlySet<string>> {
  const found = new Map<Expression, ReadonlySet<string>>();
  const visit = (part: Expression): ReadonlySet<string> => {
    const names = new Set(part.op === "is" || part.op === "turned" ? [part.ref] : part.op === "not" ? visit(part.of) : part.of.flatMap((one) => [...visit(one)]));
    found.set(part, names);
    return names;
  };
  visit(expression);
  return found;
}
