import type { Expression } from "../../site/expression.js";

/** Equal parts of many rules become one object, so that each is replayed once. */
export interface Interned {
  readonly atom: (atom: Extract<Expression, { readonly op: "is" | "turned" }>) => Expression;
  /** The operands joined; one alone stands for itself, of equal ones one is kept. Null where there is none. */
  readonly joined: (op: "all" | "any", of: readonly (Expression | null)[]) => Expression | null;
  readonly atLeast: (count: number, of: readonly Expression[]) => Expression;
}

/** A new store, empty. */
export function makeInterned(): Interned {
  const known = new Map<string, Expression>();
  const ids = new Map<Expression, number>();
  const one = (key: string, make: () => Expression): Expression => {
    const found = known.get(key) ?? make();
    if (!known.has(key)) {
      known.set(key, found);
      ids.set(found, ids.size);
    }
    return found;
  };
  const keyOf = (op: string, of: readonly Expression[]): string => `${op}:${of.map((part) => ids.get(part) ?? "?").join(",")}`;
  return {
    atom: (atom) => one(JSON.stringify(atom), () => atom),
    joined: (op, of) => {
      const parts = [...new Set(of)].filter((part) => part !== null);
      const [only] = parts;
      if (only === undefined) return null;
      return parts.length === 1 ? only : one(keyOf(op, parts), () => ({ op, of: parts }));
    },
    atLeast: (count, of) => one(keyOf(String(count), of), () => ({ op: "atLeast", count, of })),
  };
}
