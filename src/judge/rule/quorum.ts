import type { Expression } from "../../site/expression.js";

/** An expression with operands. */
export type Compound = Extract<Expression, { readonly op: "all" | "any" | "atLeast" }>;

/** How many operands must hold: all of them, one, or at least k. */
export function quorumOf(part: Compound): number {
  switch (part.op) {
    case "all":
      return part.of.length;
    case "any":
      return 1;
    case "atLeast":
      return part.count;
  }
}
