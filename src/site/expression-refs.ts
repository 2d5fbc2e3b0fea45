import type { Expression } from "./expression.js";

/** The signals (or, of a `right_when`, the subjects) that an expression names: each once, in code-point order. */
export function expressionRefs(expression: Expression): string[] {
  const refs = new Set<string>();
  collect(expression, refs);
  return [...refs].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
}

function collect(expression: Expression, into: Set<string>): void {
  switch (expression.op) {
    case "all":
    case "any":
    case "atLeast":
      for (const part of expression.of) collect(part, into);
      return;
    case "not":
      collect(expression.of, into);
      return;
    case "is":
      into.add(expression.ref);
      if (expression.since !== undefined) into.add(expression.since.ref);
      return;
    case "turned":
      into.add(expression.ref);
  }
}
